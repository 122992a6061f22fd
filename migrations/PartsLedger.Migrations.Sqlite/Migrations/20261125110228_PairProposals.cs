using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class PairProposals : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "pair_proposals",
                columns: table => new
                {
                    id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    family_id = table.Column<int>(type: "INTEGER", nullable: false),
                    made_at = table.Column<long>(type: "INTEGER", nullable: false),
                    made_by = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    held_until = table.Column<long>(type: "INTEGER", nullable: false),
                    version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pair_proposals", x => x.id);
                    table.ForeignKey(
                        name: "fk_pair_proposals_families_family_id",
                        column: x => x.family_id,
                        principalTable: "families",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "pair_proposal_lines",
                columns: table => new
                {
                    id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    proposal_id = table.Column<long>(type: "INTEGER", nullable: false),
                    housing_id = table.Column<int>(type: "INTEGER", nullable: false),
                    valve_id = table.Column<int>(type: "INTEGER", nullable: false),
                    bore_measurement_id = table.Column<long>(type: "INTEGER", nullable: false),
                    spool_measurement_id = table.Column<long>(type: "INTEGER", nullable: false),
                    clearance = table.Column<long>(type: "INTEGER", nullable: false),
                    deviation = table.Column<long>(type: "INTEGER", nullable: false),
                    state = table.Column<string>(type: "TEXT", maxLength: 20, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pair_proposal_lines", x => x.id);
                    table.CheckConstraint("ck_pair_proposal_lines_state", "state in ('held', 'joined', 'let-go')");
                    table.CheckConstraint("ck_pair_proposal_lines_two_halves", "housing_id <> valve_id");
                    table.ForeignKey(
                        name: "fk_pair_proposal_lines_measurements_bore_measurement_id",
                        column: x => x.bore_measurement_id,
                        principalTable: "measurements",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pair_proposal_lines_measurements_spool_measurement_id",
                        column: x => x.spool_measurement_id,
                        principalTable: "measurements",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pair_proposal_lines_pair_proposals_proposal_id",
                        column: x => x.proposal_id,
                        principalTable: "pair_proposals",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pair_proposal_lines_units_housing_id",
                        column: x => x.housing_id,
                        principalTable: "units",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pair_proposal_lines_units_valve_id",
                        column: x => x.valve_id,
                        principalTable: "units",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_pair_proposal_lines_bore_measurement_id",
                table: "pair_proposal_lines",
                column: "bore_measurement_id");

            migrationBuilder.CreateIndex(
                name: "ix_pair_proposal_lines_housing_id",
                table: "pair_proposal_lines",
                column: "housing_id",
                unique: true,
                filter: "state = 'held'");

            migrationBuilder.CreateIndex(
                name: "ix_pair_proposal_lines_proposal_id",
                table: "pair_proposal_lines",
                column: "proposal_id");

            migrationBuilder.CreateIndex(
                name: "ix_pair_proposal_lines_spool_measurement_id",
                table: "pair_proposal_lines",
                column: "spool_measurement_id");

            migrationBuilder.CreateIndex(
                name: "ix_pair_proposal_lines_valve_id",
                table: "pair_proposal_lines",
                column: "valve_id",
                unique: true,
                filter: "state = 'held'");

            migrationBuilder.CreateIndex(
                name: "ix_pair_proposals_family_id",
                table: "pair_proposals",
                column: "family_id");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "pair_proposal_lines");

            migrationBuilder.DropTable(
                name: "pair_proposals");
        }
    }
}
