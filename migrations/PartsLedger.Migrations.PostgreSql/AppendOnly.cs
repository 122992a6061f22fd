using Microsoft.EntityFrameworkCore.Migrations;

namespace PartsLedger.Migrations.PostgreSql;

/// <summary>Triggers that refuse to change, delete or truncate what was once written to an append-only table.</summary>
internal static class AppendOnly
{
    public static void MakeAppendOnly(this MigrationBuilder migration, string table) => migration.Sql($"""
        create or replace function {table}_append_only() returns trigger language plpgsql as $$
        begin raise exception '{table} is append only: reverse it by a new entry' using errcode = 'restrict_violation'; end $$;
        create trigger {table}_append_only before update or delete on {table} for each row execute function {table}_append_only();
        create trigger {table}_append_only_truncate before truncate on {table} for each statement execute function {table}_append_only();
        """);
}
