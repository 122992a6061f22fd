using Microsoft.EntityFrameworkCore.Migrations;

namespace PartsLedger.Migrations.Sqlite;

/// <summary>Triggers that refuse to change or delete what was once written to an append-only table.</summary>
internal static class AppendOnly
{
    public static void MakeAppendOnly(this MigrationBuilder migration, string table)
    {
        foreach (var verb in (string[])["update", "delete"])
            migration.Sql($"""
                create trigger {table}_append_only_{verb} before {verb} on {table}
                begin select raise(abort, '{table} is append only: reverse it by a new entry'); end;
                """);
    }
}
