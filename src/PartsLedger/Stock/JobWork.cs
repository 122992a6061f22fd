using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

/// <summary>What a job has of a part, net of what came back, in one lot and what that was worth when it left.</summary>
/// <param name="Lot">Null for pieces without a lot.</param>
public sealed record PulledLot(int? LotId, string? Lot, Quantity Quantity, Money Worth);

/// <summary>How the ledger knows a job: transactions that belong to it carry its key, so that <c>j-7</c> and <c>J-7</c> are one job.</summary>
public static class JobWork
{
    public const string BelongsTo = "job";

    public static Posting Posting(string act, string requestId, string? note, string job) =>
        new(act, requestId, note, BelongsTo, Code.KeyOf(job));

    /// <summary>
    /// What the job has pulled of a part and neither given back nor had reversed, lot by lot. True until the commit when the caller has
    /// the turn on the part.
    /// </summary>
    public static async Task<IReadOnlyList<PulledLot>> Pulled(LedgerContext db, string job, int partId, CancellationToken cancellation)
    {
        var key = Code.KeyOf(job);

        // A reversal belongs to the job of what it reverses, whether or not it says so itself.
        var lines = await db.StockLines.AsNoTracking()
            .Where(line => line.PartId == partId && line.Outside == OutsideWorld.Job
                && ((line.Transaction.BelongsTo == BelongsTo && line.Transaction.BelongsToRef == key)
                    || (line.Transaction.Reverses!.BelongsTo == BelongsTo && line.Transaction.Reverses!.BelongsToRef == key)))
            .Select(line => new { line.LotId, Lot = line.Lot!.Code, line.Quantity, line.Value }).ToListAsync(cancellation);
        return [.. lines.GroupBy(line => line.LotId)
            .Select(group => new PulledLot(group.Key, group.First().Lot, group.Total(line => line.Quantity),
                Money.FromTenThousandths(group.Sum(line => line.Value.TenThousandths))))
            .OrderBy(lot => lot.Lot, StringComparer.Ordinal)];
    }
}
