using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.SqlServer.Migrations
{
    /// <inheritdoc />
    public partial class SearchKeys : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "folded_key",
                table: "parts",
                type: "nvarchar(100)",
                maxLength: 100,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "folded_key",
                table: "aliases",
                type: "nvarchar(100)",
                maxLength: 100,
                nullable: false,
                defaultValue: "");

            migrationBuilder.CreateTable(
                name: "machine_words",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    word = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    beginning = table.Column<string>(type: "nvarchar(2)", maxLength: 2, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_machine_words", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "application_words",
                columns: table => new
                {
                    word_id = table.Column<int>(type: "int", nullable: false),
                    application_id = table.Column<int>(type: "int", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_application_words", x => new { x.word_id, x.application_id });
                    table.ForeignKey(
                        name: "fk_application_words_applications_application_id",
                        column: x => x.application_id,
                        principalTable: "applications",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_application_words_machine_words_word_id",
                        column: x => x.word_id,
                        principalTable: "machine_words",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_parts_folded_key",
                table: "parts",
                column: "folded_key");

            migrationBuilder.CreateIndex(
                name: "ix_aliases_folded_key",
                table: "aliases",
                column: "folded_key");

            migrationBuilder.CreateIndex(
                name: "ix_application_words_application_id",
                table: "application_words",
                column: "application_id");

            migrationBuilder.CreateIndex(
                name: "ix_machine_words_beginning",
                table: "machine_words",
                column: "beginning");

            migrationBuilder.CreateIndex(
                name: "ix_machine_words_word",
                table: "machine_words",
                column: "word",
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "application_words");

            migrationBuilder.DropTable(
                name: "machine_words");

            migrationBuilder.DropIndex(
                name: "ix_parts_folded_key",
                table: "parts");

            migrationBuilder.DropIndex(
                name: "ix_aliases_folded_key",
                table: "aliases");

            migrationBuilder.DropColumn(
                name: "folded_key",
                table: "parts");

            migrationBuilder.DropColumn(
                name: "folded_key",
                table: "aliases");
        }
    }
}
