using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.SqlServer.Migrations
{
    /// <inheritdoc />
    public partial class Foundation : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "cautions",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    applies_to = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    applies_to_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    text = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: false),
                    text_hash = table.Column<string>(type: "nvarchar(64)", maxLength: 64, nullable: false),
                    severity = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_cautions", x => x.id);
                    table.CheckConstraint("ck_cautions_severity", "severity in ('note', 'caution', 'warning')");
                });

            migrationBuilder.CreateTable(
                name: "families",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    code_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    name = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    displacement = table.Column<long>(type: "bigint", nullable: true),
                    valve_fit = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    bore = table.Column<long>(type: "bigint", nullable: true),
                    clearance_min = table.Column<long>(type: "bigint", nullable: true),
                    clearance_target = table.Column<long>(type: "bigint", nullable: true),
                    clearance_max = table.Column<long>(type: "bigint", nullable: true),
                    form_limit = table.Column<long>(type: "bigint", nullable: true),
                    land_length = table.Column<long>(type: "bigint", nullable: true),
                    housing_material = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    valve_material = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_families", x => x.id);
                    table.CheckConstraint("ck_families_bore", "bore > 0");
                    table.CheckConstraint("ck_families_clearance_ends", "clearance_min <= clearance_max");
                    table.CheckConstraint("ck_families_clearance_high", "clearance_target <= clearance_max");
                    table.CheckConstraint("ck_families_clearance_low", "clearance_min <= clearance_target");
                    table.CheckConstraint("ck_families_displacement", "displacement > 0");
                    table.CheckConstraint("ck_families_form_limit", "form_limit >= 0");
                    table.CheckConstraint("ck_families_land_length", "land_length > 0");
                    table.CheckConstraint("ck_families_valve_fit", "valve_fit in ('selective', 'interchangeable')");
                });

            migrationBuilder.CreateTable(
                name: "features",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    code_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    question = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: false),
                    seconds = table.Column<int>(type: "int", nullable: false),
                    teardown = table.Column<bool>(type: "bit", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_features", x => x.id);
                    table.CheckConstraint("ck_features_seconds", "seconds >= 0");
                });

            migrationBuilder.CreateTable(
                name: "gauges",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    code_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    kind = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    uncertainty = table.Column<long>(type: "bigint", nullable: false),
                    calibrated_on = table.Column<DateOnly>(type: "date", nullable: true),
                    due_on = table.Column<DateOnly>(type: "date", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_gauges", x => x.id);
                    table.CheckConstraint("ck_gauges_dates", "calibrated_on <= due_on");
                    table.CheckConstraint("ck_gauges_uncertainty", "uncertainty > 0");
                });

            migrationBuilder.CreateTable(
                name: "locations",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    code_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    name = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    kind = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_locations", x => x.id);
                    table.CheckConstraint("ck_locations_kind", "kind in ('bin', 'bench', 'quarantine', 'dock')");
                });

            migrationBuilder.CreateTable(
                name: "pressure_classes",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    code_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    name = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    relief = table.Column<long>(type: "bigint", nullable: false),
                    minus = table.Column<long>(type: "bigint", nullable: false),
                    plus = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pressure_classes", x => x.id);
                    table.CheckConstraint("ck_pressure_classes_band", "relief > 0 and minus >= 0 and minus <= relief and plus >= 0");
                });

            migrationBuilder.CreateTable(
                name: "requests",
                columns: table => new
                {
                    request_id = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    kind = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    fingerprint = table.Column<string>(type: "nvarchar(64)", maxLength: 64, nullable: false),
                    answer = table.Column<string>(type: "nvarchar(max)", nullable: false),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_requests", x => x.request_id);
                });

            migrationBuilder.CreateTable(
                name: "reservations",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    job = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    job_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    made_at = table.Column<long>(type: "bigint", nullable: false),
                    made_by = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    expires_at = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_reservations", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "settings",
                columns: table => new
                {
                    name = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    value = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_settings", x => x.name);
                });

            migrationBuilder.CreateTable(
                name: "stock_transactions",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    act = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    request_id = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    why = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true),
                    belongs_to = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: true),
                    belongs_to_ref = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    reverses_id = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stock_transactions", x => x.id);
                    table.ForeignKey(
                        name: "fk_stock_transactions_stock_transactions_reverses_id",
                        column: x => x.reverses_id,
                        principalTable: "stock_transactions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "pairs",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    code_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    family_id = table.Column<int>(type: "int", nullable: false),
                    pressure_class_id = table.Column<int>(type: "int", nullable: false),
                    origin = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    state = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    released = table.Column<bool>(type: "bit", nullable: false),
                    cost = table.Column<long>(type: "bigint", nullable: false),
                    location_id = table.Column<int>(type: "int", nullable: true),
                    job = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    job_until = table.Column<long>(type: "bigint", nullable: true),
                    version = table.Column<int>(type: "int", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pairs", x => x.id);
                    table.UniqueConstraint("ak_pairs_id_family_id", x => new { x.id, x.family_id });
                    table.UniqueConstraint("ak_pairs_id_pressure_class_id", x => new { x.id, x.pressure_class_id });
                    table.CheckConstraint("ck_pairs_cost", "cost >= 0");
                    table.CheckConstraint("ck_pairs_origin", "origin in ('as-received', 'by-selection')");
                    table.CheckConstraint("ck_pairs_parted_has_no_place", "state = 'together' or (location_id is null and job is null)");
                    table.CheckConstraint("ck_pairs_state", "state in ('together', 'taken-apart', 'condemned', 'gone')");
                    table.ForeignKey(
                        name: "fk_pairs_families_family_id",
                        column: x => x.family_id,
                        principalTable: "families",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pairs_locations_location_id",
                        column: x => x.location_id,
                        principalTable: "locations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pairs_pressure_classes_pressure_class_id",
                        column: x => x.pressure_class_id,
                        principalTable: "pressure_classes",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "parts",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    number = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    number_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    name = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    kind = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    service = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    pressure_class_id = table.Column<int>(type: "int", nullable: true),
                    tracking = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    unit = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    cost = table.Column<long>(type: "bigint", nullable: false),
                    price = table.Column<long>(type: "bigint", nullable: true),
                    lead_days = table.Column<int>(type: "int", nullable: true),
                    supplied = table.Column<bool>(type: "bit", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_parts", x => x.id);
                    table.CheckConstraint("ck_parts_cost", "cost >= 0");
                    table.CheckConstraint("ck_parts_kind", "kind in ('seal', 'rotating', 'plate', 'spring', 'valve', 'housing', 'hardware', 'kit', 'assembly', 'fluid', 'tool')");
                    table.CheckConstraint("ck_parts_lead_days", "lead_days >= 0");
                    table.CheckConstraint("ck_parts_number", "number_key <> ''");
                    table.CheckConstraint("ck_parts_price", "price >= 0");
                    table.CheckConstraint("ck_parts_service", "service in ('separate', 'kit-only', 'assembly-only', 'none')");
                    table.CheckConstraint("ck_parts_tracking", "tracking in ('bulk', 'lot', 'serial')");
                    table.ForeignKey(
                        name: "fk_parts_pressure_classes_pressure_class_id",
                        column: x => x.pressure_class_id,
                        principalTable: "pressure_classes",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "variants",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    code_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    family_id = table.Column<int>(type: "int", nullable: false),
                    pressure_class_id = table.Column<int>(type: "int", nullable: false),
                    built_from = table.Column<DateOnly>(type: "date", nullable: true),
                    built_to = table.Column<DateOnly>(type: "date", nullable: true),
                    serial_from = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    serial_to = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    rotation = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    note = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_variants", x => x.id);
                    table.CheckConstraint("ck_variants_built", "built_from <= built_to");
                    table.ForeignKey(
                        name: "fk_variants_families_family_id",
                        column: x => x.family_id,
                        principalTable: "families",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_variants_pressure_classes_pressure_class_id",
                        column: x => x.pressure_class_id,
                        principalTable: "pressure_classes",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stock_feed",
                columns: table => new
                {
                    position = table.Column<long>(type: "bigint", nullable: false),
                    transaction_id = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stock_feed", x => x.position);
                    table.ForeignKey(
                        name: "fk_stock_feed_stock_transactions_transaction_id",
                        column: x => x.transaction_id,
                        principalTable: "stock_transactions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stock_unfed",
                columns: table => new
                {
                    transaction_id = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stock_unfed", x => x.transaction_id);
                    table.ForeignKey(
                        name: "fk_stock_unfed_stock_transactions_transaction_id",
                        column: x => x.transaction_id,
                        principalTable: "stock_transactions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "aliases",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    number = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    number_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    source = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_aliases", x => x.id);
                    table.CheckConstraint("ck_aliases_number", "number_key <> ''");
                    table.ForeignKey(
                        name: "fk_aliases_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "cost_layers",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    transaction_id = table.Column<long>(type: "bigint", nullable: false),
                    quantity_left = table.Column<long>(type: "bigint", nullable: false),
                    value_left = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_cost_layers", x => x.id);
                    table.CheckConstraint("ck_cost_layers_left", "quantity_left >= 0 and value_left >= 0 and (quantity_left > 0 or value_left = 0)");
                    table.ForeignKey(
                        name: "fk_cost_layers_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_cost_layers_stock_transactions_transaction_id",
                        column: x => x.transaction_id,
                        principalTable: "stock_transactions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "lots",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    code = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    code_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    cured_on = table.Column<DateOnly>(type: "date", nullable: true),
                    expires_on = table.Column<DateOnly>(type: "date", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_lots", x => x.id);
                    table.UniqueConstraint("ak_lots_part_id_id", x => new { x.part_id, x.id });
                    table.CheckConstraint("ck_lots_dates", "cured_on <= expires_on");
                    table.ForeignKey(
                        name: "fk_lots_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "pack_contents",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    pack_id = table.Column<int>(type: "int", nullable: false),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    quantity = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pack_contents", x => x.id);
                    table.CheckConstraint("ck_pack_contents_not_itself", "pack_id <> part_id");
                    table.CheckConstraint("ck_pack_contents_quantity", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_pack_contents_parts_pack_id",
                        column: x => x.pack_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pack_contents_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stock_counts",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    location_id = table.Column<int>(type: "int", nullable: false),
                    lot_slot = table.Column<int>(type: "int", nullable: false),
                    condition = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    counted = table.Column<long>(type: "bigint", nullable: false),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    waiting = table.Column<bool>(type: "bit", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stock_counts", x => x.id);
                    table.CheckConstraint("ck_stock_counts_condition", "condition in ('new', 'rebuilt', 'used', 'quarantine')");
                    table.CheckConstraint("ck_stock_counts_counted", "counted >= 0");
                    table.ForeignKey(
                        name: "fk_stock_counts_locations_location_id",
                        column: x => x.location_id,
                        principalTable: "locations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_stock_counts_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stock_parts",
                columns: table => new
                {
                    part_id = table.Column<int>(type: "int", nullable: false),
                    on_hand = table.Column<long>(type: "bigint", nullable: false),
                    value = table.Column<long>(type: "bigint", nullable: false),
                    verified_value = table.Column<long>(type: "bigint", nullable: false),
                    version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stock_parts", x => x.part_id);
                    table.CheckConstraint("ck_stock_parts_on_hand", "on_hand >= 0");
                    table.CheckConstraint("ck_stock_parts_value", "value >= 0 and (on_hand > 0 or value = 0)");
                    table.ForeignKey(
                        name: "fk_stock_parts_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "supersessions",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    old_id = table.Column<int>(type: "int", nullable: false),
                    new_id = table.Column<int>(type: "int", nullable: false),
                    quantity = table.Column<long>(type: "bigint", nullable: false),
                    supersession_rule = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_supersessions", x => x.id);
                    table.CheckConstraint("ck_supersessions_not_itself", "old_id <> new_id");
                    table.CheckConstraint("ck_supersessions_quantity", "quantity > 0");
                    table.CheckConstraint("ck_supersessions_rule", "supersession_rule in ('replace', 'use-up')");
                    table.ForeignKey(
                        name: "fk_supersessions_parts_new_id",
                        column: x => x.new_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_supersessions_parts_old_id",
                        column: x => x.old_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "applications",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    make = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    make_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    model = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    model_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    year_from = table.Column<int>(type: "int", nullable: false),
                    year_to = table.Column<int>(type: "int", nullable: true),
                    option = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    option_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    variant_id = table.Column<int>(type: "int", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_applications", x => x.id);
                    table.CheckConstraint("ck_applications_year_to", "year_to >= year_from and year_to <= 2200");
                    table.CheckConstraint("ck_applications_years", "year_from >= 1850 and year_from <= 2200");
                    table.ForeignKey(
                        name: "fk_applications_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "checks",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    family_id = table.Column<int>(type: "int", nullable: true),
                    variant_id = table.Column<int>(type: "int", nullable: true),
                    sequence = table.Column<int>(type: "int", nullable: false),
                    text = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: false),
                    expected = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: true),
                    unit = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: true),
                    low_millionths = table.Column<long>(type: "bigint", nullable: true),
                    high_millionths = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_checks", x => x.id);
                    table.CheckConstraint("ck_checks_one_owner", "(family_id is null and variant_id is not null) or (family_id is not null and variant_id is null)");
                    table.CheckConstraint("ck_checks_range", "low_millionths <= high_millionths");
                    table.ForeignKey(
                        name: "fk_checks_families_family_id",
                        column: x => x.family_id,
                        principalTable: "families",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_checks_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "cores",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    tag = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    tag_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    family_id = table.Column<int>(type: "int", nullable: true),
                    variant_id = table.Column<int>(type: "int", nullable: true),
                    serial = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    condition_on_arrival = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true),
                    received_on = table.Column<DateOnly>(type: "date", nullable: true),
                    received_from = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: true),
                    state = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    grade = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: true),
                    deposit = table.Column<long>(type: "bigint", nullable: false),
                    version = table.Column<int>(type: "int", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_cores", x => x.id);
                    table.CheckConstraint("ck_cores_deposit", "deposit >= 0");
                    table.CheckConstraint("ck_cores_grade", "grade in ('sound', 'worn', 'parts-only', 'hopeless')");
                    table.CheckConstraint("ck_cores_state", "state in ('arrived', 'graded', 'torn-down', 'sent-back', 'scrapped')");
                    table.CheckConstraint("ck_cores_torn_down_is_graded", "state <> 'torn-down' or grade is not null");
                    table.ForeignKey(
                        name: "fk_cores_families_family_id",
                        column: x => x.family_id,
                        principalTable: "families",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_cores_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "positions",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    variant_id = table.Column<int>(type: "int", nullable: false),
                    position = table.Column<int>(type: "int", nullable: false),
                    name = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    quantity = table.Column<long>(type: "bigint", nullable: false),
                    part_group = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    renew = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_positions", x => x.id);
                    table.CheckConstraint("ck_positions_part_group", "part_group in ('seal', 'rotating', 'valve', 'body', 'hardware', 'external')");
                    table.CheckConstraint("ck_positions_quantity", "quantity > 0");
                    table.CheckConstraint("ck_positions_renew", "renew in ('always', 'if-worn')");
                    table.ForeignKey(
                        name: "fk_positions_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_positions_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "tools",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    family_id = table.Column<int>(type: "int", nullable: true),
                    variant_id = table.Column<int>(type: "int", nullable: true),
                    name = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    name_key = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false),
                    note = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_tools", x => x.id);
                    table.CheckConstraint("ck_tools_one_owner", "(family_id is null and variant_id is not null) or (family_id is not null and variant_id is null)");
                    table.ForeignKey(
                        name: "fk_tools_families_family_id",
                        column: x => x.family_id,
                        principalTable: "families",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_tools_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "variant_features",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    variant_id = table.Column<int>(type: "int", nullable: false),
                    feature_id = table.Column<int>(type: "int", nullable: false),
                    value = table.Column<string>(type: "nvarchar(200)", maxLength: 200, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_variant_features", x => x.id);
                    table.ForeignKey(
                        name: "fk_variant_features_features_feature_id",
                        column: x => x.feature_id,
                        principalTable: "features",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_variant_features_variants_variant_id",
                        column: x => x.variant_id,
                        principalTable: "variants",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stock_balances",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    location_id = table.Column<int>(type: "int", nullable: false),
                    lot_id = table.Column<int>(type: "int", nullable: true),
                    lot_slot = table.Column<int>(type: "int", nullable: false),
                    condition = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    on_hand = table.Column<long>(type: "bigint", nullable: false),
                    reserved = table.Column<long>(type: "bigint", nullable: false),
                    verified_on_hand = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stock_balances", x => x.id);
                    table.CheckConstraint("ck_stock_balances_condition", "condition in ('new', 'rebuilt', 'used', 'quarantine')");
                    table.CheckConstraint("ck_stock_balances_lot_slot", "(lot_id is null and lot_slot = 0) or (lot_id is not null and lot_id = lot_slot)");
                    table.CheckConstraint("ck_stock_balances_on_hand", "on_hand >= 0");
                    table.CheckConstraint("ck_stock_balances_reserved", "reserved >= 0 and reserved <= on_hand");
                    table.ForeignKey(
                        name: "fk_stock_balances_locations_location_id",
                        column: x => x.location_id,
                        principalTable: "locations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_stock_balances_lots_part_id_lot_id",
                        columns: x => new { x.part_id, x.lot_id },
                        principalTable: "lots",
                        principalColumns: new[] { "part_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_stock_balances_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stock_lines",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    transaction_id = table.Column<long>(type: "bigint", nullable: false),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    location_id = table.Column<int>(type: "int", nullable: true),
                    outside = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: true),
                    lot_id = table.Column<int>(type: "int", nullable: true),
                    condition = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    quantity = table.Column<long>(type: "bigint", nullable: false),
                    unit_cost = table.Column<long>(type: "bigint", nullable: false),
                    value = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stock_lines", x => x.id);
                    table.CheckConstraint("ck_stock_lines_condition", "condition in ('new', 'rebuilt', 'used', 'quarantine')");
                    table.CheckConstraint("ck_stock_lines_one_place", "(location_id is null and outside is not null) or (location_id is not null and outside is null)");
                    table.CheckConstraint("ck_stock_lines_outside", "outside in ('supplier', 'customer', 'scrap', 'job', 'count-difference', 'opening')");
                    table.CheckConstraint("ck_stock_lines_quantity", "quantity <> 0");
                    table.CheckConstraint("ck_stock_lines_unit_cost", "unit_cost >= 0");
                    table.CheckConstraint("ck_stock_lines_value", "(quantity > 0 and value >= 0) or (quantity < 0 and value <= 0)");
                    table.ForeignKey(
                        name: "fk_stock_lines_locations_location_id",
                        column: x => x.location_id,
                        principalTable: "locations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_stock_lines_lots_part_id_lot_id",
                        columns: x => new { x.part_id, x.lot_id },
                        principalTable: "lots",
                        principalColumns: new[] { "part_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_stock_lines_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_stock_lines_stock_transactions_transaction_id",
                        column: x => x.transaction_id,
                        principalTable: "stock_transactions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "core_findings",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    core_id = table.Column<int>(type: "int", nullable: false),
                    position = table.Column<int>(type: "int", nullable: false),
                    finding = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    note = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_core_findings", x => x.id);
                    table.CheckConstraint("ck_core_findings_finding", "finding in ('good', 'worn', 'damaged', 'missing', 'wrong-part')");
                    table.ForeignKey(
                        name: "fk_core_findings_cores_core_id",
                        column: x => x.core_id,
                        principalTable: "cores",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "deposit_entries",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    core_id = table.Column<int>(type: "int", nullable: false),
                    entry = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    settles = table.Column<int>(type: "int", nullable: false),
                    amount = table.Column<long>(type: "bigint", nullable: false),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    why = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true),
                    request_id = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_deposit_entries", x => x.id);
                    table.CheckConstraint("ck_deposit_entries_entry", "entry in ('owed', 'given-back', 'kept')");
                    table.CheckConstraint("ck_deposit_entries_settles", "(entry = 'owed' and settles = 0) or (entry <> 'owed' and settles = 1)");
                    table.CheckConstraint("ck_deposit_entries_sign", "(entry = 'owed' and amount > 0) or (entry <> 'owed' and amount < 0)");
                    table.ForeignKey(
                        name: "fk_deposit_entries_cores_core_id",
                        column: x => x.core_id,
                        principalTable: "cores",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "units",
                columns: table => new
                {
                    id = table.Column<int>(type: "int", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    tag = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    tag_key = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    role = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    family_id = table.Column<int>(type: "int", nullable: false),
                    pressure_class_id = table.Column<int>(type: "int", nullable: true),
                    part_id = table.Column<int>(type: "int", nullable: true),
                    core_id = table.Column<int>(type: "int", nullable: true),
                    state = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    shim_count = table.Column<int>(type: "int", nullable: true),
                    shim_stack = table.Column<long>(type: "bigint", nullable: true),
                    pair_id = table.Column<int>(type: "int", nullable: true),
                    location_id = table.Column<int>(type: "int", nullable: true),
                    job = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: true),
                    version = table.Column<int>(type: "int", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_units", x => x.id);
                    table.CheckConstraint("ck_units_gone_has_no_place", "state not in ('condemned', 'gone') or job is null");
                    table.CheckConstraint("ck_units_no_place_in_a_pair", "pair_id is null or (location_id is null and job is null)");
                    table.CheckConstraint("ck_units_paired_valve_has_class", "pair_id is null or role = 'housing' or pressure_class_id is not null");
                    table.CheckConstraint("ck_units_role", "role in ('housing', 'valve')");
                    table.CheckConstraint("ck_units_shim_stack", "shim_stack >= 0");
                    table.CheckConstraint("ck_units_shims", "shim_count >= 0");
                    table.CheckConstraint("ck_units_state", "state in ('serviceable', 'quarantine', 'condemned', 'gone')");
                    table.ForeignKey(
                        name: "fk_units_cores_core_id",
                        column: x => x.core_id,
                        principalTable: "cores",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_units_families_family_id",
                        column: x => x.family_id,
                        principalTable: "families",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_units_locations_location_id",
                        column: x => x.location_id,
                        principalTable: "locations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_units_pairs_pair_id_family_id",
                        columns: x => new { x.pair_id, x.family_id },
                        principalTable: "pairs",
                        principalColumns: new[] { "id", "family_id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_units_pairs_pair_id_pressure_class_id",
                        columns: x => new { x.pair_id, x.pressure_class_id },
                        principalTable: "pairs",
                        principalColumns: new[] { "id", "pressure_class_id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_units_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_units_pressure_classes_pressure_class_id",
                        column: x => x.pressure_class_id,
                        principalTable: "pressure_classes",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "reservation_lines",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    reservation_id = table.Column<long>(type: "bigint", nullable: false),
                    balance_id = table.Column<long>(type: "bigint", nullable: false),
                    part_id = table.Column<int>(type: "int", nullable: false),
                    reserved = table.Column<long>(type: "bigint", nullable: false),
                    still_open = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_reservation_lines", x => x.id);
                    table.CheckConstraint("ck_reservation_lines_open", "reserved > 0 and still_open >= 0 and still_open <= reserved");
                    table.ForeignKey(
                        name: "fk_reservation_lines_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_reservation_lines_reservations_reservation_id",
                        column: x => x.reservation_id,
                        principalTable: "reservations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_reservation_lines_stock_balances_balance_id",
                        column: x => x.balance_id,
                        principalTable: "stock_balances",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "measurements",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    unit_id = table.Column<int>(type: "int", nullable: false),
                    characteristic = table.Column<string>(type: "nvarchar(20)", maxLength: 20, nullable: false),
                    taken_at = table.Column<long>(type: "bigint", nullable: false),
                    gauge_id = table.Column<int>(type: "int", nullable: false),
                    milli_celsius = table.Column<int>(type: "int", nullable: false),
                    who = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_measurements", x => x.id);
                    table.CheckConstraint("ck_measurements_characteristic", "characteristic in ('bore', 'spool')");
                    table.CheckConstraint("ck_measurements_temperature", "milli_celsius >= -40000 and milli_celsius <= 150000");
                    table.ForeignKey(
                        name: "fk_measurements_gauges_gauge_id",
                        column: x => x.gauge_id,
                        principalTable: "gauges",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_measurements_units_unit_id",
                        column: x => x.unit_id,
                        principalTable: "units",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "unit_events",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    core_id = table.Column<int>(type: "int", nullable: true),
                    unit_id = table.Column<int>(type: "int", nullable: true),
                    pair_id = table.Column<int>(type: "int", nullable: true),
                    what = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    detail = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true),
                    why = table.Column<string>(type: "nvarchar(2000)", maxLength: 2000, nullable: true),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    who = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false),
                    request_id = table.Column<string>(type: "nvarchar(100)", maxLength: 100, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_unit_events", x => x.id);
                    table.CheckConstraint("ck_unit_events_about_something", "core_id is not null or unit_id is not null or pair_id is not null");
                    table.ForeignKey(
                        name: "fk_unit_events_cores_core_id",
                        column: x => x.core_id,
                        principalTable: "cores",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_unit_events_pairs_pair_id",
                        column: x => x.pair_id,
                        principalTable: "pairs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_unit_events_units_unit_id",
                        column: x => x.unit_id,
                        principalTable: "units",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "readings",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("SqlServer:Identity", "1, 1"),
                    measurement_id = table.Column<long>(type: "bigint", nullable: false),
                    sequence = table.Column<int>(type: "int", nullable: false),
                    diameter = table.Column<long>(type: "bigint", nullable: false),
                    depth = table.Column<long>(type: "bigint", nullable: true),
                    angle_degrees = table.Column<int>(type: "int", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_readings", x => x.id);
                    table.CheckConstraint("ck_readings_diameter", "diameter > 0");
                    table.ForeignKey(
                        name: "fk_readings_measurements_measurement_id",
                        column: x => x.measurement_id,
                        principalTable: "measurements",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_aliases_number_key_part_id",
                table: "aliases",
                columns: new[] { "number_key", "part_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_aliases_part_id",
                table: "aliases",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_applications_make_key_model_key_year_from_option_key_variant_id",
                table: "applications",
                columns: new[] { "make_key", "model_key", "year_from", "option_key", "variant_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_applications_variant_id",
                table: "applications",
                column: "variant_id");

            migrationBuilder.CreateIndex(
                name: "ix_cautions_applies_to_key_text_hash",
                table: "cautions",
                columns: new[] { "applies_to_key", "text_hash" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_checks_family_id_sequence",
                table: "checks",
                columns: new[] { "family_id", "sequence" },
                unique: true,
                filter: "[family_id] IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "ix_checks_variant_id_sequence",
                table: "checks",
                columns: new[] { "variant_id", "sequence" },
                unique: true,
                filter: "[variant_id] IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "ix_core_findings_core_id_position",
                table: "core_findings",
                columns: new[] { "core_id", "position" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_cores_family_id_state",
                table: "cores",
                columns: new[] { "family_id", "state" });

            migrationBuilder.CreateIndex(
                name: "ix_cores_tag_key",
                table: "cores",
                column: "tag_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_cores_variant_id",
                table: "cores",
                column: "variant_id");

            migrationBuilder.CreateIndex(
                name: "ix_cost_layers_part_id_id",
                table: "cost_layers",
                columns: new[] { "part_id", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_cost_layers_transaction_id",
                table: "cost_layers",
                column: "transaction_id");

            migrationBuilder.CreateIndex(
                name: "ix_deposit_entries_core_id_settles",
                table: "deposit_entries",
                columns: new[] { "core_id", "settles" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_families_code_key",
                table: "families",
                column: "code_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_features_code_key",
                table: "features",
                column: "code_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_gauges_code_key",
                table: "gauges",
                column: "code_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_locations_code_key",
                table: "locations",
                column: "code_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_lots_part_id_code_key",
                table: "lots",
                columns: new[] { "part_id", "code_key" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_measurements_gauge_id",
                table: "measurements",
                column: "gauge_id");

            migrationBuilder.CreateIndex(
                name: "ix_measurements_unit_id_characteristic_taken_at",
                table: "measurements",
                columns: new[] { "unit_id", "characteristic", "taken_at" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_pack_contents_pack_id_part_id",
                table: "pack_contents",
                columns: new[] { "pack_id", "part_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_pack_contents_part_id",
                table: "pack_contents",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_pairs_code_key",
                table: "pairs",
                column: "code_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_pairs_family_id_pressure_class_id_state",
                table: "pairs",
                columns: new[] { "family_id", "pressure_class_id", "state" });

            migrationBuilder.CreateIndex(
                name: "ix_pairs_location_id",
                table: "pairs",
                column: "location_id");

            migrationBuilder.CreateIndex(
                name: "ix_pairs_pressure_class_id",
                table: "pairs",
                column: "pressure_class_id");

            migrationBuilder.CreateIndex(
                name: "ix_parts_number_key",
                table: "parts",
                column: "number_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_parts_pressure_class_id",
                table: "parts",
                column: "pressure_class_id");

            migrationBuilder.CreateIndex(
                name: "ix_positions_part_id",
                table: "positions",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_positions_variant_id_position",
                table: "positions",
                columns: new[] { "variant_id", "position" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_pressure_classes_code_key",
                table: "pressure_classes",
                column: "code_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_readings_measurement_id_sequence",
                table: "readings",
                columns: new[] { "measurement_id", "sequence" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_requests_at",
                table: "requests",
                column: "at");

            migrationBuilder.CreateIndex(
                name: "ix_reservation_lines_balance_id",
                table: "reservation_lines",
                column: "balance_id");

            migrationBuilder.CreateIndex(
                name: "ix_reservation_lines_part_id",
                table: "reservation_lines",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_reservation_lines_reservation_id",
                table: "reservation_lines",
                column: "reservation_id");

            migrationBuilder.CreateIndex(
                name: "ix_reservations_expires_at",
                table: "reservations",
                column: "expires_at");

            migrationBuilder.CreateIndex(
                name: "ix_reservations_job_key",
                table: "reservations",
                column: "job_key");

            migrationBuilder.CreateIndex(
                name: "ix_stock_balances_location_id",
                table: "stock_balances",
                column: "location_id");

            migrationBuilder.CreateIndex(
                name: "ix_stock_balances_part_id_location_id_lot_slot_condition",
                table: "stock_balances",
                columns: new[] { "part_id", "location_id", "lot_slot", "condition" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_stock_balances_part_id_lot_id",
                table: "stock_balances",
                columns: new[] { "part_id", "lot_id" });

            migrationBuilder.CreateIndex(
                name: "ix_stock_counts_location_id",
                table: "stock_counts",
                column: "location_id");

            migrationBuilder.CreateIndex(
                name: "ix_stock_counts_part_id_location_id_lot_slot_condition_waiting",
                table: "stock_counts",
                columns: new[] { "part_id", "location_id", "lot_slot", "condition", "waiting" });

            migrationBuilder.CreateIndex(
                name: "ix_stock_feed_transaction_id",
                table: "stock_feed",
                column: "transaction_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_stock_lines_location_id",
                table: "stock_lines",
                column: "location_id");

            migrationBuilder.CreateIndex(
                name: "ix_stock_lines_part_id_location_id_id",
                table: "stock_lines",
                columns: new[] { "part_id", "location_id", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_stock_lines_part_id_lot_id",
                table: "stock_lines",
                columns: new[] { "part_id", "lot_id" });

            migrationBuilder.CreateIndex(
                name: "ix_stock_lines_transaction_id",
                table: "stock_lines",
                column: "transaction_id");

            migrationBuilder.CreateIndex(
                name: "ix_stock_transactions_at",
                table: "stock_transactions",
                column: "at");

            migrationBuilder.CreateIndex(
                name: "ix_stock_transactions_belongs_to_belongs_to_ref",
                table: "stock_transactions",
                columns: new[] { "belongs_to", "belongs_to_ref" });

            migrationBuilder.CreateIndex(
                name: "ix_stock_transactions_request_id",
                table: "stock_transactions",
                column: "request_id");

            migrationBuilder.CreateIndex(
                name: "ix_stock_transactions_reverses_id",
                table: "stock_transactions",
                column: "reverses_id",
                unique: true,
                filter: "[reverses_id] IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "ix_supersessions_new_id",
                table: "supersessions",
                column: "new_id");

            migrationBuilder.CreateIndex(
                name: "ix_supersessions_old_id_new_id",
                table: "supersessions",
                columns: new[] { "old_id", "new_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_tools_family_id_name_key",
                table: "tools",
                columns: new[] { "family_id", "name_key" },
                unique: true,
                filter: "[family_id] IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "ix_tools_variant_id_name_key",
                table: "tools",
                columns: new[] { "variant_id", "name_key" },
                unique: true,
                filter: "[variant_id] IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "ix_unit_events_core_id",
                table: "unit_events",
                column: "core_id");

            migrationBuilder.CreateIndex(
                name: "ix_unit_events_pair_id",
                table: "unit_events",
                column: "pair_id");

            migrationBuilder.CreateIndex(
                name: "ix_unit_events_unit_id",
                table: "unit_events",
                column: "unit_id");

            migrationBuilder.CreateIndex(
                name: "ix_units_core_id",
                table: "units",
                column: "core_id");

            migrationBuilder.CreateIndex(
                name: "ix_units_family_id_role_state",
                table: "units",
                columns: new[] { "family_id", "role", "state" });

            migrationBuilder.CreateIndex(
                name: "ix_units_location_id",
                table: "units",
                column: "location_id");

            migrationBuilder.CreateIndex(
                name: "ix_units_pair_id_family_id",
                table: "units",
                columns: new[] { "pair_id", "family_id" });

            migrationBuilder.CreateIndex(
                name: "ix_units_pair_id_pressure_class_id",
                table: "units",
                columns: new[] { "pair_id", "pressure_class_id" });

            migrationBuilder.CreateIndex(
                name: "ix_units_pair_id_role",
                table: "units",
                columns: new[] { "pair_id", "role" },
                unique: true,
                filter: "[pair_id] IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "ix_units_part_id",
                table: "units",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_units_pressure_class_id",
                table: "units",
                column: "pressure_class_id");

            migrationBuilder.CreateIndex(
                name: "ix_units_tag_key",
                table: "units",
                column: "tag_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_variant_features_feature_id",
                table: "variant_features",
                column: "feature_id");

            migrationBuilder.CreateIndex(
                name: "ix_variant_features_variant_id_feature_id",
                table: "variant_features",
                columns: new[] { "variant_id", "feature_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_variants_code_key",
                table: "variants",
                column: "code_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_variants_family_id",
                table: "variants",
                column: "family_id");

            migrationBuilder.CreateIndex(
                name: "ix_variants_pressure_class_id",
                table: "variants",
                column: "pressure_class_id");

            migrationBuilder.MakeAppendOnly("stock_transactions");
            migrationBuilder.MakeAppendOnly("stock_lines");
            migrationBuilder.MakeAppendOnly("stock_feed");
            migrationBuilder.MakeAppendOnly("deposit_entries");
            migrationBuilder.MakeAppendOnly("unit_events");
            migrationBuilder.MakeAppendOnly("measurements");
            migrationBuilder.MakeAppendOnly("readings");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "aliases");

            migrationBuilder.DropTable(
                name: "applications");

            migrationBuilder.DropTable(
                name: "cautions");

            migrationBuilder.DropTable(
                name: "checks");

            migrationBuilder.DropTable(
                name: "core_findings");

            migrationBuilder.DropTable(
                name: "cost_layers");

            migrationBuilder.DropTable(
                name: "deposit_entries");

            migrationBuilder.DropTable(
                name: "pack_contents");

            migrationBuilder.DropTable(
                name: "positions");

            migrationBuilder.DropTable(
                name: "readings");

            migrationBuilder.DropTable(
                name: "requests");

            migrationBuilder.DropTable(
                name: "reservation_lines");

            migrationBuilder.DropTable(
                name: "settings");

            migrationBuilder.DropTable(
                name: "stock_counts");

            migrationBuilder.DropTable(
                name: "stock_feed");

            migrationBuilder.DropTable(
                name: "stock_lines");

            migrationBuilder.DropTable(
                name: "stock_parts");

            migrationBuilder.DropTable(
                name: "stock_unfed");

            migrationBuilder.DropTable(
                name: "supersessions");

            migrationBuilder.DropTable(
                name: "tools");

            migrationBuilder.DropTable(
                name: "unit_events");

            migrationBuilder.DropTable(
                name: "variant_features");

            migrationBuilder.DropTable(
                name: "measurements");

            migrationBuilder.DropTable(
                name: "reservations");

            migrationBuilder.DropTable(
                name: "stock_balances");

            migrationBuilder.DropTable(
                name: "stock_transactions");

            migrationBuilder.DropTable(
                name: "features");

            migrationBuilder.DropTable(
                name: "gauges");

            migrationBuilder.DropTable(
                name: "units");

            migrationBuilder.DropTable(
                name: "lots");

            migrationBuilder.DropTable(
                name: "cores");

            migrationBuilder.DropTable(
                name: "pairs");

            migrationBuilder.DropTable(
                name: "parts");

            migrationBuilder.DropTable(
                name: "variants");

            migrationBuilder.DropTable(
                name: "locations");

            migrationBuilder.DropTable(
                name: "families");

            migrationBuilder.DropTable(
                name: "pressure_classes");
        }
    }
}
