using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Stock;

namespace PartsLedger.Hosting;

/// <summary>
/// Copies of the embedded database: taken while the program works, checked before they count as made, and put back without losing what was
/// there. A database server has means of its own (<c>docs/operations.md</c>).
/// </summary>
public static class Backups
{
    /// <param name="File">The copy, or the database that was put in place.</param>
    /// <param name="Bytes">Its size.</param>
    /// <param name="Verified">What <c>verify</c> counted in it; null where only the file itself could be checked, as an older program made it.</param>
    /// <param name="Before">Where the database that was there before is kept; null when there was none.</param>
    public sealed record Made(string File, long Bytes, VerifyLedger.Answer? Verified, string? Before = null);

    /// <summary>Copies the database into a new file and checks the copy. Refused, the file is not there.</summary>
    public static async Task<Outcome<Made>> Take(DatabaseAddress address, string file, CancellationToken cancellation)
    {
        if (address.Database is not IFileDatabase database) return NotAFile;
        if (!File.Exists(address.Connection))
            return new Refusal("NO_DATABASE", $"There is no database {address.Connection}.", "Check the address after --db or in PARTSLEDGER_DB.");
        if (Exists(file)) return new Refusal("FILE_EXISTS", $"{file} is there already; a backup never replaces a file.", "Give another name, such as one with the date.");
        var copy = file + ".part";
        try
        {
            if (Path.GetDirectoryName(Path.GetFullPath(file)) is { } folder) Directory.CreateDirectory(folder);
            Remove(copy);
            await database.Copy(address.Connection, copy, cancellation);
            var check = await Check(database, copy, migrate: false, cancellation);
            if (!check.Succeeded) return check.Refusal;
            File.Move(copy, file);
            return new Made(file, new FileInfo(file).Length, check.Result.Verified);
        }
        catch (Exception problem) when (problem is DbException or IOException or UnauthorizedAccessException)
        {
            return new Refusal("BACKUP_FAILED", $"The copy could not be made: {problem.GetBaseException().Message}",
                "Check that the folder can be written to and that there is room.");
        }
        finally
        {
            Remove(copy);
        }
    }

    /// <summary>
    /// Puts a copy in the place of the embedded database: checked, brought up to this program's version and verified first, beside the place,
    /// so that a copy that is of no use changes nothing. What was there is kept under another name.
    /// </summary>
    public static async Task<Outcome<Made>> PutBack(string file, DatabaseAddress address, bool replace, DateTimeOffset now, CancellationToken cancellation)
    {
        if (address.Database is not IFileDatabase database) return NotAFile;
        if (!File.Exists(file)) return new Refusal("NO_BACKUP", $"There is no file {file}.", "Give the file that 'partsledger backup' wrote.");
        var place = Path.GetFullPath(address.Connection);
        if (Exists(place) && !replace)
            return new Refusal("DATABASE_EXISTS", $"{address.Connection} is there already.",
                "Give another place after --db, or --replace: the database that is there is then kept under another name.");
        var coming = place + ".restoring";
        try
        {
            if (!await Begins(file, database, cancellation))
                return new Refusal("NOT_A_BACKUP", $"{file} is no copy of an embedded database.", "Give the file that 'partsledger backup' wrote.");
            if (Path.GetDirectoryName(place) is { } folder) Directory.CreateDirectory(folder);
            Remove(coming);
            File.Copy(file, coming);
            var check = await Check(database, coming, migrate: true, cancellation);
            if (!check.Succeeded) return check.Refusal;

            string? before = null;
            if (Exists(place))
            {
                if (!await database.Close(place, cancellation))
                    return new Refusal("DATABASE_IN_USE", $"Another program works on {address.Connection}.", "Stop it, then restore again.");
                before = $"{place}.before-{now.UtcDateTime:yyyyMMdd-HHmmss}";
                File.Move(place, before);
            }
            File.Move(coming, place);
            return new Made(place, new FileInfo(place).Length, check.Result.Verified, before);
        }
        catch (Exception problem) when (problem is DbException or IOException or UnauthorizedAccessException)
        {
            return new Refusal("RESTORE_FAILED", $"The copy could not be put in place: {problem.GetBaseException().Message}",
                "Check that both folders can be used and that there is room.");
        }
        finally
        {
            Remove(coming);
        }
    }

    /// <summary>The file by the database's own rules, then every rule of the ledger in it from the first transaction on.</summary>
    private static async Task<Outcome<Checked>> Check(IFileDatabase database, string file, bool migrate, CancellationToken cancellation)
    {
        if (await database.Faults(file, cancellation) is { Count: > 0 } faults)
            return new Refusal("COPY_DAMAGED", $"{file} is damaged: {faults[0]}", "Do not use it. Take another copy, or go back to an older one.");
        var address = new DatabaseAddress(database, file);
        await using var services = new ServiceCollection().AddLogging().AddPartsLedger(address).BuildServiceProvider();
        await using (var scope = services.CreateAsyncScope())
        {
            var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
            if (!migrate && (await db.Database.GetPendingMigrationsAsync(cancellation)).Any()) return new Checked(null);
            var opened = await DatabaseOpening.Open(db, cancellation);
            if (!opened.Succeeded) return opened.Refusal;
        }
        var verified = await services.GetRequiredService<Dispatcher>().Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(Full: true), Caller.CommandLine, cancellation);
        if (!verified.Succeeded) return verified.Refusal;
        await services.DisposeAsync();
        if (!await database.Close(file, cancellation)) return new Refusal("COPY_IN_USE", $"Another program opened {file}.", "Leave it alone while it is checked.");
        if (verified.Result.Sound) return new Checked(verified.Result);
        var breach = verified.Result.Breaches[0];
        return new Refusal("COPY_NOT_SOUND", $"{verified.Result.Breaches.Count} rules do not hold in the copy; the first is {breach.Rule}: {breach.Where}: {breach.What}",
            "Run 'partsledger verify' on the database it was taken from.");
    }

    private static async Task<bool> Begins(string file, IFileDatabase database, CancellationToken cancellation)
    {
        await using var stream = File.OpenRead(file);
        var first = new byte[database.Signature.Length];
        return await stream.ReadAtLeastAsync(first, first.Length, throwOnEndOfStream: false, cancellation) == first.Length
            && database.Signature.SequenceEqual(first);
    }

    private static bool Exists(string file) => File.Exists(file) || Directory.Exists(file);

    private static void Remove(string copy)
    {
        foreach (var beside in (ReadOnlySpan<string>)["", "-wal", "-shm", "-journal"]) File.Delete(copy + beside);
    }

    private static Refusal NotAFile => new("NOT_A_FILE", "Only the embedded database is copied by this program.",
        "Use the database server's own means; docs/operations.md says which.");

    /// <param name="Verified">Null when an older program made the copy and it was left as it is.</param>
    private sealed record Checked(VerifyLedger.Answer? Verified);
}
