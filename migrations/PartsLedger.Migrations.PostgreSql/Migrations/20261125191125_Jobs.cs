using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace PartsLedger.Migrations.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class Jobs : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "jobs",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    number = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    number_key = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    customer_reference = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: true, collation: "C"),
                    machine = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: true, collation: "C"),
                    core_id = table.Column<int>(type: "integer", nullable: true),
                    is_exchange = table.Column<bool>(type: "boolean", nullable: false),
                    variant_id = table.Column<int>(type: "integer", nullable: true),
                    job_scope = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false, collation: "C"),
                    prefer = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false, collation: "C"),
                    due_on = table.Column<DateOnly>(type: "date", nullable: true),
                    priority = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false, collation: "C"),
                    promised_price = table.Column<long>(type: "bigint", nullable: true),
                    state = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false, collation: "C"),
                    stopped = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true, collation: "C"),
                    pair_id = table.Column<int>(type: "integer", nullable: true),
                    fitted_shim_count = table.Column<int>(type: "integer", nullable: true),
                    fitted_shim_stack = table.Column<long>(type: "bigint", nullable: true),
                    started_at = table.Column<long>(type: "bigint", nullable: false),
                    started_by = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    released_at = table.Column<long>(type: "bigint", nullable: true),
                    list_revision = table.Column<int>(type: "integer", nullable: false),
                    version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_jobs", x => x.id);
                    table.CheckConstraint("ck_jobs_list_accepted", "state not in ('list-accepted', 'assembled', 'tested', 'released') or list_revision > 0");
                    table.CheckConstraint("ck_jobs_prefer", "prefer in ('cost', 'stock')");
                    table.CheckConstraint("ck_jobs_priority", "priority in ('ordinary', 'soon', 'urgent')");
                    table.CheckConstraint("ck_jobs_promised_price", "promised_price >= 0");
                    table.CheckConstraint("ck_jobs_released", "(state = 'released' and released_at is not null and stopped is null) or (state <> 'released' and released_at is null)");
                    table.CheckConstraint("ck_jobs_scope", "job_scope in ('reseal', 'rotating', 'valve', 'full')");
                    table.CheckConstraint("ck_jobs_shims", "fitted_shim_count >= 0 and fitted_shim_stack >= 0");
                    table.CheckConstraint("ck_jobs_state", "state in ('taken-in', 'identified', 'torn-down', 'list-accepted', 'assembled', 'tested', 'released', 'called-off')");
                    table.CheckConstraint("ck_jobs_variant_settled", "state in ('taken-in', 'called-off') or variant_id is not null");
                    table.ForeignKey(
                        name: "fk_jobs_cores_core_id",
                        column: x => x.core_id,
                        principalTable: "cores",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_jobs_pairs_pair_id",
                        column: x => x.pair_id,
                        principalTable: "pairs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_jobs_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_candidates",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    variant_id = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_candidates", x => x.id);
                    table.ForeignKey(
                        name: "fk_job_candidates_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_candidates_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_events",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    what = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    detail = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true, collation: "C"),
                    why = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true, collation: "C"),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    request_id = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_events", x => x.id);
                    table.ForeignKey(
                        name: "fk_job_events_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_findings",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    position = table.Column<int>(type: "integer", nullable: false),
                    finding = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false, collation: "C"),
                    note = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true, collation: "C"),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    request_id = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_findings", x => x.id);
                    table.CheckConstraint("ck_job_findings_finding", "finding in ('good', 'worn', 'damaged', 'missing', 'wrong-part')");
                    table.ForeignKey(
                        name: "fk_job_findings_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_lists",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    answer = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    why = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true, collation: "C"),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    request_id = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_lists", x => x.id);
                    table.ForeignKey(
                        name: "fk_job_lists_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_shorts",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<long>(type: "bigint", nullable: false),
                    substitute_id = table.Column<int>(type: "integer", nullable: true),
                    substitute_quantity = table.Column<long>(type: "bigint", nullable: true),
                    why = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: false, collation: "C"),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    request_id = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_shorts", x => x.id);
                    table.CheckConstraint("ck_job_shorts_quantity", "quantity > 0");
                    table.CheckConstraint("ck_job_shorts_substitute", "(substitute_id is null and substitute_quantity is null) or (substitute_id is not null and substitute_quantity > 0)");
                    table.ForeignKey(
                        name: "fk_job_shorts_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_shorts_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_shorts_parts_substitute_id",
                        column: x => x.substitute_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_surplus",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    pack_id = table.Column<int>(type: "integer", nullable: false),
                    pack_lot_id = table.Column<int>(type: "integer", nullable: true),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<long>(type: "bigint", nullable: false),
                    lot_id = table.Column<int>(type: "integer", nullable: true),
                    transaction_id = table.Column<long>(type: "bigint", nullable: true),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C"),
                    request_id = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_surplus", x => x.id);
                    table.CheckConstraint("ck_job_surplus_posted", "(lot_id is null and transaction_id is null) or (lot_id is not null and transaction_id is not null)");
                    table.CheckConstraint("ck_job_surplus_quantity", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_job_surplus_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_surplus_lots_lot_id",
                        column: x => x.lot_id,
                        principalTable: "lots",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_surplus_lots_pack_lot_id",
                        column: x => x.pack_lot_id,
                        principalTable: "lots",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_surplus_parts_pack_id",
                        column: x => x.pack_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_surplus_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_surplus_stock_transactions_transaction_id",
                        column: x => x.transaction_id,
                        principalTable: "stock_transactions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job_list_lines",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    list_id = table.Column<int>(type: "integer", nullable: false),
                    line = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: true),
                    pair_id = table.Column<int>(type: "integer", nullable: true),
                    quantity = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_list_lines", x => x.id);
                    table.CheckConstraint("ck_job_list_lines_one_thing", "(part_id is null and pair_id is not null) or (part_id is not null and pair_id is null)");
                    table.CheckConstraint("ck_job_list_lines_quantity", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_job_list_lines_job_lists_list_id",
                        column: x => x.list_id,
                        principalTable: "job_lists",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_list_lines_pairs_pair_id",
                        column: x => x.pair_id,
                        principalTable: "pairs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_job_list_lines_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_job_candidates_job_id_variant_id",
                table: "job_candidates",
                columns: new[] { "job_id", "variant_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_job_candidates_variant_id",
                table: "job_candidates",
                column: "variant_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_events_job_id",
                table: "job_events",
                column: "job_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_findings_job_id_position",
                table: "job_findings",
                columns: new[] { "job_id", "position" });

            migrationBuilder.CreateIndex(
                name: "ix_job_list_lines_list_id_line",
                table: "job_list_lines",
                columns: new[] { "list_id", "line" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_job_list_lines_pair_id",
                table: "job_list_lines",
                column: "pair_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_list_lines_part_id",
                table: "job_list_lines",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_lists_job_id_revision",
                table: "job_lists",
                columns: new[] { "job_id", "revision" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_job_shorts_job_id",
                table: "job_shorts",
                column: "job_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_shorts_part_id",
                table: "job_shorts",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_shorts_substitute_id",
                table: "job_shorts",
                column: "substitute_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_surplus_job_id",
                table: "job_surplus",
                column: "job_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_surplus_lot_id",
                table: "job_surplus",
                column: "lot_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_surplus_pack_id",
                table: "job_surplus",
                column: "pack_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_surplus_pack_lot_id",
                table: "job_surplus",
                column: "pack_lot_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_surplus_part_id",
                table: "job_surplus",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_surplus_transaction_id",
                table: "job_surplus",
                column: "transaction_id");

            migrationBuilder.CreateIndex(
                name: "ix_jobs_core_id",
                table: "jobs",
                column: "core_id",
                unique: true,
                filter: "core_id is not null and state <> 'called-off'");

            migrationBuilder.CreateIndex(
                name: "ix_jobs_number_key",
                table: "jobs",
                column: "number_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_jobs_pair_id",
                table: "jobs",
                column: "pair_id",
                unique: true,
                filter: "pair_id is not null and state <> 'called-off'");

            migrationBuilder.CreateIndex(
                name: "ix_jobs_state_id",
                table: "jobs",
                columns: new[] { "state", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_jobs_variant_id",
                table: "jobs",
                column: "variant_id");

            migrationBuilder.MakeAppendOnly("job_findings");
            migrationBuilder.MakeAppendOnly("job_lists");
            migrationBuilder.MakeAppendOnly("job_list_lines");
            migrationBuilder.MakeAppendOnly("job_shorts");
            migrationBuilder.MakeAppendOnly("job_surplus");
            migrationBuilder.MakeAppendOnly("job_events");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "job_candidates");

            migrationBuilder.DropTable(
                name: "job_events");

            migrationBuilder.DropTable(
                name: "job_findings");

            migrationBuilder.DropTable(
                name: "job_list_lines");

            migrationBuilder.DropTable(
                name: "job_shorts");

            migrationBuilder.DropTable(
                name: "job_surplus");

            migrationBuilder.DropTable(
                name: "job_lists");

            migrationBuilder.DropTable(
                name: "jobs");
        }
    }
}
