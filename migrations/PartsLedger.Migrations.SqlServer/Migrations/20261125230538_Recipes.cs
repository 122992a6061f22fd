using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.SqlServer.Migrations
{
    /// <inheritdoc />
    public partial class Recipes : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "kit_recipes",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    kit_id = table.Column<int>(type: "int", nullable: false),
                    revision = table.Column<int>(type: "int", nullable: false),
                    job_scope = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    instructions = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true),
                    why = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    request_id = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kit_recipes", x => x.id);
                    table.CheckConstraint("ck_kit_recipes_revision", "revision > 0");
                    table.CheckConstraint("ck_kit_recipes_scope", "job_scope in ('reseal', 'rotating', 'valve', 'full')");
                    table.ForeignKey(
                        name: "fk_kit_recipes_parts_kit_id",
                        column: x => x.kit_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "kit_recipe_lines",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    recipe_id = table.Column<int>(type: "int", nullable: false),
                    line = table.Column<int>(type: "int", nullable: false),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    quantity = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kit_recipe_lines", x => x.id);
                    table.CheckConstraint("ck_kit_recipe_lines_quantity", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_kit_recipe_lines_kit_recipes_recipe_id",
                        column: x => x.recipe_id,
                        principalTable: "kit_recipes",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_kit_recipe_lines_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "kit_recipe_variants",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    recipe_id = table.Column<int>(type: "int", nullable: false),
                    variant_id = table.Column<int>(type: "int", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kit_recipe_variants", x => x.id);
                    table.ForeignKey(
                        name: "fk_kit_recipe_variants_kit_recipes_recipe_id",
                        column: x => x.recipe_id,
                        principalTable: "kit_recipes",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_kit_recipe_variants_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_kit_recipe_lines_part_id",
                table: "kit_recipe_lines",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_kit_recipe_lines_recipe_id_part_id",
                table: "kit_recipe_lines",
                columns: new[] { "recipe_id", "part_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_kit_recipe_variants_recipe_id_variant_id",
                table: "kit_recipe_variants",
                columns: new[] { "recipe_id", "variant_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_kit_recipe_variants_variant_id",
                table: "kit_recipe_variants",
                column: "variant_id");

            migrationBuilder.CreateIndex(
                name: "ix_kit_recipes_kit_id_revision",
                table: "kit_recipes",
                columns: new[] { "kit_id", "revision" },
                unique: true);

            migrationBuilder.MakeAppendOnly("kit_recipes");
            migrationBuilder.MakeAppendOnly("kit_recipe_lines");
            migrationBuilder.MakeAppendOnly("kit_recipe_variants");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "kit_recipe_lines");

            migrationBuilder.DropTable(
                name: "kit_recipe_variants");

            migrationBuilder.DropTable(
                name: "kit_recipes");
        }
    }
}
