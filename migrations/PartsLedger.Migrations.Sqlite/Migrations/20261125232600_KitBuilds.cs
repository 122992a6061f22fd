using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class KitBuilds : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "kit_builds",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    recipe_id = table.Column<int>(type: "INTEGER", nullable: false),
                    lot_id = table.Column<int>(type: "INTEGER", nullable: false),
                    transaction_id = table.Column<long>(type: "INTEGER", nullable: false),
                    quantity = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kit_builds", x => x.id);
                    table.CheckConstraint("ck_kit_builds_quantity", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_kit_builds_kit_recipes_recipe_id",
                        column: x => x.recipe_id,
                        principalTable: "kit_recipes",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_kit_builds_lots_lot_id",
                        column: x => x.lot_id,
                        principalTable: "lots",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_kit_builds_stock_transactions_transaction_id",
                        column: x => x.transaction_id,
                        principalTable: "stock_transactions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_kit_builds_lot_id",
                table: "kit_builds",
                column: "lot_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_kit_builds_recipe_id",
                table: "kit_builds",
                column: "recipe_id");

            migrationBuilder.CreateIndex(
                name: "ix_kit_builds_transaction_id",
                table: "kit_builds",
                column: "transaction_id",
                unique: true);

            migrationBuilder.MakeAppendOnly("kit_builds");

            // The step before built the table of lines anew for its check, and its triggers went with the old one.
            migrationBuilder.MakeAppendOnly("stock_lines");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "kit_builds");
        }
    }
}
