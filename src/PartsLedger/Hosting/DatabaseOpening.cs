using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Identification;

namespace PartsLedger.Hosting;

/// <summary>Makes sure that a database is there and of this program's version before anything is asked of it.</summary>
public static class DatabaseOpening
{
    /// <summary>
    /// Creates a missing database, migrates an empty or older one, and refuses one that cannot be opened
    /// (<c>DATABASE_UNREACHABLE</c>) or that a newer program has written (<c>DATABASE_NEWER</c>).
    /// </summary>
    public static async Task<Outcome<LedgerContext>> Open(LedgerContext db, CancellationToken cancellation)
    {
        try
        {
            var known = db.Database.GetMigrations().ToHashSet(StringComparer.Ordinal);
            var applied = await db.Database.CanConnectAsync(cancellation) ? await db.Database.GetAppliedMigrationsAsync(cancellation) : [];
            if (applied.FirstOrDefault(migration => !known.Contains(migration)) is { } newer)
                return new Refusal("DATABASE_NEWER", $"The database was written by a newer program: its step {newer} is not known here.",
                    "Install the newer program, or restore a copy of the database that this program made.");
            await db.Database.MigrateAsync(cancellation);
            if (db.Database.ProviderName?.EndsWith("Sqlite", StringComparison.Ordinal) is true)
                await db.Database.ExecuteSqlRawAsync("pragma journal_mode = wal", cancellation);
            await SearchKeys.FillMissing(db, cancellation);
            return db;
        }
        catch (Exception problem) when (problem is DbException or IOException or UnauthorizedAccessException or ArgumentException)
        {
            return new Refusal("DATABASE_UNREACHABLE", $"The database cannot be opened: {FirstSentence(problem)}",
                "Check the address after --db or in PARTSLEDGER_DB, and that you may read and write there.");
        }
    }

    private static string FirstSentence(Exception problem)
    {
        var line = problem.GetBaseException().Message.ReplaceLineEndings("\n").Split('\n')[0].Trim();
        return line.EndsWith('.') ? line : line + ".";
    }
}
