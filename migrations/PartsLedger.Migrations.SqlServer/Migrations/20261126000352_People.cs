using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.SqlServer.Migrations
{
    /// <inheritdoc />
    public partial class People : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "access_tokens",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    name = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    name_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    hash = table.Column<string>(type: "nvarchar(64)", maxLength: 64, nullable: false),
                    made_at = table.Column<long>(type: "bigint", nullable: false),
                    made_by = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    expires_at = table.Column<long>(type: "bigint", nullable: false),
                    revoked_at = table.Column<long>(type: "bigint", nullable: true),
                    revoked_by = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    last_used_at = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_access_tokens", x => x.id);
                    table.CheckConstraint("ck_access_tokens_revoked", "(revoked_at is null and revoked_by is null) or (revoked_at is not null and revoked_by is not null)");
                    table.CheckConstraint("ck_access_tokens_times", "expires_at > made_at");
                });

            migrationBuilder.CreateTable(
                name: "people",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    name = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    name_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    is_active = table.Column<bool>(type: "bit", nullable: false),
                    password_hash = table.Column<string>(type: "nvarchar(500)", maxLength: 500, nullable: true),
                    stamp = table.Column<string>(type: "nvarchar(64)", maxLength: 64, nullable: false),
                    second_factor_key = table.Column<string>(type: "nvarchar(64)", maxLength: 64, nullable: true),
                    second_factor_since = table.Column<long>(type: "bigint", nullable: true),
                    second_factor_step = table.Column<long>(type: "bigint", nullable: false),
                    badge_hash = table.Column<string>(type: "nvarchar(64)", maxLength: 64, nullable: true),
                    pin_hash = table.Column<string>(type: "nvarchar(500)", maxLength: 500, nullable: true),
                    subject = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: true),
                    version = table.Column<int>(type: "int", nullable: false),
                    made_at = table.Column<long>(type: "bigint", nullable: false),
                    made_by = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_people", x => x.id);
                    table.CheckConstraint("ck_people_badge_has_pin", "badge_hash is null or pin_hash is not null");
                });

            migrationBuilder.CreateTable(
                name: "protection_keys",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    name = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    xml = table.Column<string>(type: "nvarchar(max)", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_protection_keys", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "token_roles",
                columns: table => new
                {
                    token_id = table.Column<int>(type: "int", nullable: false),
                    role = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_token_roles", x => new { x.token_id, x.role });
                    table.CheckConstraint("ck_token_roles_role", "role in ('counter', 'warehouse', 'rebuilder', 'supervisor', 'administrator', 'reader')");
                    table.ForeignKey(
                        name: "fk_token_roles_access_tokens_token_id",
                        column: x => x.token_id,
                        principalTable: "access_tokens",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "one_time_links",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    code_hash = table.Column<string>(type: "nvarchar(64)", maxLength: 64, nullable: false),
                    person_id = table.Column<int>(type: "int", nullable: true),
                    made_at = table.Column<long>(type: "bigint", nullable: false),
                    made_by = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    expires_at = table.Column<long>(type: "bigint", nullable: false),
                    used_at = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_one_time_links", x => x.id);
                    table.CheckConstraint("ck_one_time_links_times", "expires_at > made_at");
                    table.ForeignKey(
                        name: "fk_one_time_links_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "person_roles",
                columns: table => new
                {
                    person_id = table.Column<int>(type: "int", nullable: false),
                    role = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_person_roles", x => new { x.person_id, x.role });
                    table.CheckConstraint("ck_person_roles_role", "role in ('counter', 'warehouse', 'rebuilder', 'supervisor', 'administrator', 'reader')");
                    table.ForeignKey(
                        name: "fk_person_roles_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "sign_in_tries",
                columns: table => new
                {
                    person_id = table.Column<int>(type: "int", nullable: false),
                    means = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    wrong = table.Column<int>(type: "int", nullable: false),
                    locks = table.Column<int>(type: "int", nullable: false),
                    locked_until = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_sign_in_tries", x => new { x.person_id, x.means });
                    table.CheckConstraint("ck_sign_in_tries_counts", "wrong >= 0 and locks >= 0");
                    table.CheckConstraint("ck_sign_in_tries_means", "means in ('password', 'second-factor', 'badge')");
                    table.ForeignKey(
                        name: "fk_sign_in_tries_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_access_tokens_hash",
                table: "access_tokens",
                column: "hash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_access_tokens_name_key",
                table: "access_tokens",
                column: "name_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_one_time_links_code_hash",
                table: "one_time_links",
                column: "code_hash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_one_time_links_person_id",
                table: "one_time_links",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_people_badge_hash",
                table: "people",
                column: "badge_hash",
                unique: true,
                filter: "badge_hash is not null");

            migrationBuilder.CreateIndex(
                name: "ix_people_name_key",
                table: "people",
                column: "name_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_people_subject",
                table: "people",
                column: "subject",
                unique: true,
                filter: "subject is not null");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "one_time_links");

            migrationBuilder.DropTable(
                name: "person_roles");

            migrationBuilder.DropTable(
                name: "protection_keys");

            migrationBuilder.DropTable(
                name: "sign_in_tries");

            migrationBuilder.DropTable(
                name: "token_roles");

            migrationBuilder.DropTable(
                name: "people");

            migrationBuilder.DropTable(
                name: "access_tokens");
        }
    }
}
