using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// Where the pieces of lots have gone: into lots they were merged or split into, into kits built of them, and out of opened packs back
/// onto the shelf. A lot is concerned from the first transaction that brought such pieces into it; what left it before is not.
/// </summary>
internal sealed class LotTrail(LedgerContext db)
{
    /// <returns>Every lot that holds or held such pieces, with the transaction from which on it did; 0 for the lots asked about.</returns>
    public async Task<IReadOnlyDictionary<int, long>> From(IReadOnlyCollection<int> lotIds, CancellationToken cancellation)
    {
        var since = new Dictionary<int, long>();
        var open = new PriorityQueue<int, long>(lotIds.Distinct().Select(id => (id, 0L)));
        while (open.TryDequeue(out var lot, out var from))
        {
            // Earliest first: what is found later for a lot cannot be earlier.
            if (!since.TryAdd(lot, from)) continue;
            foreach (var (next, at) in (await IntoOtherLots(lot, from, cancellation)).Concat(await OutOfPacks(lot, from, cancellation)))
                if (!since.ContainsKey(next)) open.Enqueue(next, at);
        }
        return since;
    }

    /// <summary>Pieces that changed their lot within the shop, or became part of a kit.</summary>
    private async Task<List<(int Lot, long At)>> IntoOtherLots(int lot, long from, CancellationToken cancellation)
    {
        var transactions = await db.StockLines.AsNoTracking()
            .Where(line => line.LotId == lot && line.LocationId != null && line.Quantity < Quantity.Zero && line.TransactionId >= from
                && (line.Transaction.Act == "split-lot" || line.Transaction.Act == "merge-lots" || line.Transaction.BelongsTo == "kit"
                    || line.Transaction.Reverses!.Act == "split-lot" || line.Transaction.Reverses!.Act == "merge-lots"
                    || line.Transaction.Reverses!.BelongsTo == "kit"))
            .Select(line => line.TransactionId).Distinct().ToListAsync(cancellation);
        var found = new List<(int, long)>();
        foreach (var some in transactions.Chunk(900))
            found.AddRange((await db.StockLines.AsNoTracking()
                .Where(line => some.Contains(line.TransactionId) && line.LotId != null && line.LotId != lot && line.LocationId != null
                && line.Quantity > Quantity.Zero)
                .Select(line => new { LotId = line.LotId!.Value, line.TransactionId }).Distinct().ToListAsync(cancellation))
                .Select(line => (line.LotId, line.TransactionId)));
        return found;
    }

    /// <summary>Pieces out of packs of the lot that a job pulled since and did not need.</summary>
    private async Task<List<(int Lot, long At)>> OutOfPacks(int lot, long from, CancellationToken cancellation)
    {
        var rows = await db.JobSurplus.AsNoTracking().Where(row => row.PackLotId == lot && row.LotId != null && row.TransactionId >= from)
            .Select(row => new { row.LotId, row.TransactionId, row.Job.NumberKey }).ToListAsync(cancellation);
        var found = new List<(int, long)>();
        foreach (var row in rows)
            if (await db.StockLines.AsNoTracking().AnyAsync(line => line.LotId == lot && line.Outside == OutsideWorld.Job
                && line.Quantity > Quantity.Zero && line.TransactionId >= from
                && line.TransactionId < row.TransactionId && line.Transaction.BelongsToRef == row.NumberKey,
                cancellation)) found.Add((row.LotId!.Value, row.TransactionId!.Value));
        return found;
    }
}
