using Microsoft.EntityFrameworkCore.Migrations;

namespace PartsLedger.Migrations.SqlServer;

/// <summary>Triggers that refuse to change or delete what was once written to an append-only table.</summary>
internal static class AppendOnly
{
    // A trigger must be the first statement of its batch; run as text of its own it can also stand in an idempotent script.
    public static void MakeAppendOnly(this MigrationBuilder migration, string table) => migration.Sql($"""
        exec('create trigger {table}_append_only on {table} after update, delete as
        begin
            if exists (select 1 from deleted)
            begin
                raiserror(''{table} is append only: reverse it by a new entry'', 16, 1);
                rollback transaction;
            end
        end');
        """);
}
