using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.SqlServer.Migrations
{
    /// <inheritdoc />
    public partial class Audit : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "audit_entries",
                columns: table => new
                {
                    id = table.Column<string>(type: "nvarchar(32)", maxLength: 32, nullable: false),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    kind = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    what = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    about = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    request_id = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    way = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    address = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_entries", x => x.id);
                    table.CheckConstraint("ck_audit_entries_code", "(kind = 'refused' and code is not null) or (kind <> 'refused' and code is null)");
                    table.CheckConstraint("ck_audit_entries_kind", "kind in ('did', 'saw', 'refused')");
                    table.CheckConstraint("ck_audit_entries_way", "way in ('program', 'command', 'page', 'api')");
                });

            migrationBuilder.CreateTable(
                name: "audit_seals",
                columns: table => new
                {
                    position = table.Column<long>(type: "bigint", nullable: false),
                    entry_id = table.Column<string>(type: "nvarchar(32)", maxLength: 32, nullable: false),
                    hash = table.Column<string>(type: "nvarchar(64)", maxLength: 64, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_seals", x => x.position);
                    table.ForeignKey(
                        name: "fk_audit_seals_audit_entries_entry_id",
                        column: x => x.entry_id,
                        principalTable: "audit_entries",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "audit_waiting",
                columns: table => new
                {
                    entry_id = table.Column<string>(type: "nvarchar(32)", maxLength: 32, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_waiting", x => x.entry_id);
                    table.ForeignKey(
                        name: "fk_audit_waiting_audit_entries_entry_id",
                        column: x => x.entry_id,
                        principalTable: "audit_entries",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_at",
                table: "audit_entries",
                column: "at");

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_who",
                table: "audit_entries",
                column: "who");

            migrationBuilder.CreateIndex(
                name: "ix_audit_seals_entry_id",
                table: "audit_seals",
                column: "entry_id",
                unique: true);

            migrationBuilder.MakeAppendOnly("audit_entries");
            migrationBuilder.MakeAppendOnly("audit_seals");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "audit_seals");

            migrationBuilder.DropTable(
                name: "audit_waiting");

            migrationBuilder.DropTable(
                name: "audit_entries");
        }
    }
}
