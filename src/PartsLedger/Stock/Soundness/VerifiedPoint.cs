using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;

namespace PartsLedger.Stock.Soundness;

/// <summary>
/// Up to where the ledger was found sound: a place in the feed, and the highest transaction number that had been written by then; and up to
/// where the audit was, with the hash that stood there.
/// </summary>
public sealed record VerifiedPoint(long Position, long Transaction, long Audit = 0, string AuditHash = "")
{
    /// <summary>The row of <c>settings</c> that keeps it.</summary>
    public const string Name = "ledger-verified";

    public static VerifiedPoint Beginning { get; } = new(0, 0);

    public static async Task<VerifiedPoint> Read(LedgerContext db, CancellationToken cancellation)
    {
        var text = await db.Settings.AsNoTracking().Where(row => row.Name == Name).Select(row => row.Value).SingleOrDefaultAsync(cancellation);
        return text?.Split(' ') is [var position, var transaction, .. var audit]
            && long.TryParse(position, NumberStyles.None, CultureInfo.InvariantCulture, out var at)
            && long.TryParse(transaction, NumberStyles.None, CultureInfo.InvariantCulture, out var highest)
            ? audit is [var place, var hash] && long.TryParse(place, NumberStyles.None, CultureInfo.InvariantCulture, out var sealedAt)
                ? new(at, highest, sealedAt, hash) : new(at, highest)
            : Beginning;
    }

    /// <summary>Moves the point in the caller's transaction, unless another verification has moved it since it was read.</summary>
    /// <returns>Whether it was moved.</returns>
    public async Task<bool> MoveTo(LedgerContext db, VerifiedPoint next, CancellationToken cancellation)
    {
        if (await db.Database.ExecuteSqlAsync($"update settings set value = {next.Text} where name = {Name} and value = {Text}", cancellation) == 1) return true;
        if (await db.Settings.AnyAsync(row => row.Name == Name, cancellation)) return false;
        await db.Database.ExecuteSqlAsync($"insert into settings (name, value) values ({Name}, {next.Text})", cancellation);
        return true;
    }

    private string Text => string.Create(CultureInfo.InvariantCulture, $"{Position} {Transaction}{(Audit == 0 ? "" : $" {Audit} {AuditHash}")}");
}
