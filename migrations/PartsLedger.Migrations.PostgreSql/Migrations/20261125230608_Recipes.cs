using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace PartsLedger.Migrations.PostgreSql.Migrations
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
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    kit_id = table.Column<int>(type: "integer", nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    job_scope = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false, collation: "C"),
                    instructions = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true, collation: "C"),
                    why = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true, collation: "C"),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    request_id = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C")
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
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    recipe_id = table.Column<int>(type: "integer", nullable: false),
                    line = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
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
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    recipe_id = table.Column<int>(type: "integer", nullable: false),
                    variant_id = table.Column<int>(type: "integer", nullable: false)
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
