using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class Bench : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "assembly",
                table: "jobs",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.CreateTable(
                name: "bench_runs",
                columns: table => new
                {
                    id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    job_id = table.Column<int>(type: "INTEGER", nullable: false),
                    run = table.Column<int>(type: "INTEGER", nullable: false),
                    assembly = table.Column<int>(type: "INTEGER", nullable: false),
                    bench = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    bench_key = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    oil_milli_celsius = table.Column<int>(type: "INTEGER", nullable: false),
                    oil_grade = table.Column<int>(type: "INTEGER", nullable: false),
                    relief = table.Column<long>(type: "INTEGER", nullable: false),
                    leakage = table.Column<long>(type: "INTEGER", nullable: false),
                    noise = table.Column<string>(type: "TEXT", maxLength: 2000, nullable: true),
                    rejected = table.Column<string>(type: "TEXT", maxLength: 2000, nullable: true),
                    pressure_class_id = table.Column<int>(type: "INTEGER", nullable: false),
                    verdict = table.Column<string>(type: "TEXT", maxLength: 20, nullable: false),
                    reasons = table.Column<string>(type: "TEXT", maxLength: 2000, nullable: true),
                    expected = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    tested_by = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    who = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    request_id = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_bench_runs", x => x.id);
                    table.CheckConstraint("ck_bench_runs_oil", "oil_milli_celsius >= -40000 and oil_milli_celsius <= 150000");
                    table.CheckConstraint("ck_bench_runs_relief", "relief >= 0 and leakage >= 0");
                    table.CheckConstraint("ck_bench_runs_verdict", "verdict in ('passed', 'failed', 'wrong-class')");
                    table.ForeignKey(
                        name: "fk_bench_runs_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_bench_runs_pressure_classes_pressure_class_id",
                        column: x => x.pressure_class_id,
                        principalTable: "pressure_classes",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_checks",
                columns: table => new
                {
                    id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    job_id = table.Column<int>(type: "INTEGER", nullable: false),
                    sequence = table.Column<int>(type: "INTEGER", nullable: false),
                    text = table.Column<string>(type: "TEXT", maxLength: 2000, nullable: false),
                    expected = table.Column<string>(type: "TEXT", maxLength: 200, nullable: true),
                    unit = table.Column<string>(type: "TEXT", maxLength: 20, nullable: true),
                    result = table.Column<string>(type: "TEXT", maxLength: 20, nullable: false),
                    value_millionths = table.Column<long>(type: "INTEGER", nullable: true),
                    given = table.Column<string>(type: "TEXT", maxLength: 100, nullable: true),
                    why = table.Column<string>(type: "TEXT", maxLength: 2000, nullable: true),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    request_id = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_checks", x => x.id);
                    table.CheckConstraint("ck_job_checks_result", "result in ('passed', 'failed', 'skipped')");
                    table.CheckConstraint("ck_job_checks_skipped_has_reason", "result <> 'skipped' or why is not null");
                    table.ForeignKey(
                        name: "fk_job_checks_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "bench_readings",
                columns: table => new
                {
                    id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    run_id = table.Column<long>(type: "INTEGER", nullable: false),
                    rpm = table.Column<int>(type: "INTEGER", nullable: false),
                    flow = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_bench_readings", x => x.id);
                    table.CheckConstraint("ck_bench_readings_speed", "rpm > 0 and flow >= 0");
                    table.ForeignKey(
                        name: "fk_bench_readings_bench_runs_run_id",
                        column: x => x.run_id,
                        principalTable: "bench_runs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_check_signatures",
                columns: table => new
                {
                    id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    check_id = table.Column<long>(type: "INTEGER", nullable: false),
                    why = table.Column<string>(type: "TEXT", maxLength: 2000, nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    request_id = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_check_signatures", x => x.id);
                    table.ForeignKey(
                        name: "fk_job_check_signatures_job_checks_check_id",
                        column: x => x.check_id,
                        principalTable: "job_checks",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_bench_readings_run_id_rpm",
                table: "bench_readings",
                columns: new[] { "run_id", "rpm" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_bench_runs_bench_key",
                table: "bench_runs",
                column: "bench_key");

            migrationBuilder.CreateIndex(
                name: "ix_bench_runs_job_id_run",
                table: "bench_runs",
                columns: new[] { "job_id", "run" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_bench_runs_pressure_class_id",
                table: "bench_runs",
                column: "pressure_class_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_check_signatures_check_id",
                table: "job_check_signatures",
                column: "check_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_job_checks_job_id_sequence",
                table: "job_checks",
                columns: new[] { "job_id", "sequence" });

            migrationBuilder.MakeAppendOnly("job_checks");
            migrationBuilder.MakeAppendOnly("job_check_signatures");
            migrationBuilder.MakeAppendOnly("bench_runs");
            migrationBuilder.MakeAppendOnly("bench_readings");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "bench_readings");

            migrationBuilder.DropTable(
                name: "job_check_signatures");

            migrationBuilder.DropTable(
                name: "bench_runs");

            migrationBuilder.DropTable(
                name: "job_checks");

            migrationBuilder.DropColumn(
                name: "assembly",
                table: "jobs");
        }
    }
}
