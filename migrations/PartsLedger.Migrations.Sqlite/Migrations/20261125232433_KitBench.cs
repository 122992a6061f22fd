using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace PartsLedger.Migrations.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class KitBench : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropCheckConstraint(
                name: "ck_stock_lines_outside",
                table: "stock_lines");

            migrationBuilder.AddCheckConstraint(
                name: "ck_stock_lines_outside",
                table: "stock_lines",
                sql: "outside in ('supplier', 'customer', 'scrap', 'job', 'count-difference', 'opening', 'kit')");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropCheckConstraint(
                name: "ck_stock_lines_outside",
                table: "stock_lines");

            migrationBuilder.AddCheckConstraint(
                name: "ck_stock_lines_outside",
                table: "stock_lines",
                sql: "outside in ('supplier', 'customer', 'scrap', 'job', 'count-difference', 'opening')");
        }
    }
}
