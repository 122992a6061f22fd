using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>
/// Where the pieces of lots have gone: into lots they were merged or split into, into kits built of them and out of kits that were broken
/// down, and out of opened packs back onto the shelf. A lot is concerned from the first transaction that brought such pieces into it; what
/// left it before is not. A lot of kits that is concerned for what went into it passes that on when it is broken down, and nothing else.
/// </summary>
internal sealed class LotTrail(LedgerContext db)
{
    /// <summary>A concerned lot.</summary>
    /// <param name="For">The part in it that is bad, by id; null when all of it is.</param>
    private readonly record struct Concern(int Lot, int? For);

    /// <returns>Every lot that holds or held such pieces, with the transaction from which on it did; 0 for the lots asked about.</returns>
    public async Task<IReadOnlyDictionary<int, long>> From(IReadOnlyCollection<int> lotIds, CancellationToken cancellation)
    {
        var (since, seen) = (new Dictionary<int, long>(), new HashSet<Concern>());
        var open = new PriorityQueue<Concern, long>(lotIds.Distinct().Select(id => (new Concern(id, null), 0L)));
        while (open.TryDequeue(out var concern, out var from))
        {
            // Earliest first: what is found later for a lot cannot be earlier. What is true of all of it is true of each part in it.
            if (seen.Contains(concern with { For = null }) || !seen.Add(concern)) continue;
            since.TryAdd(concern.Lot, from);
            foreach (var (next, at) in (await IntoOtherLots(concern, from, cancellation))
                .Concat((await OutOfPacks(concern, from, cancellation)).Select(found => (new Concern(found.Lot, null), found.At))))
                if (!seen.Contains(next)) open.Enqueue(next, at);
        }
        return since;
    }

    /// <summary>Pieces that changed their lot within the shop, became part of a kit, or came out of one.</summary>
    private async Task<List<(Concern Next, long At)>> IntoOtherLots(Concern concern, long from, CancellationToken cancellation)
    {
        var left = await db.StockLines.AsNoTracking()
            .Where(line => line.LotId == concern.Lot && line.LocationId != null && line.Quantity < Quantity.Zero && line.TransactionId >= from
                && (line.Transaction.Act == "split-lot" || line.Transaction.Act == "merge-lots" || line.Transaction.BelongsTo == KitWork.BelongsTo
                    || line.Transaction.Reverses!.Act == "split-lot" || line.Transaction.Reverses!.Act == "merge-lots"
                    || line.Transaction.Reverses!.BelongsTo == KitWork.BelongsTo))
            .Select(line => new { line.TransactionId, line.PartId, line.Transaction.Act, Taken = line.Transaction.Reverses!.Act }).Distinct().ToListAsync(cancellation);
        var found = new List<(Concern, long)>();
        foreach (var some in left.Chunk(900))
        {
            var ids = Array.ConvertAll(some, line => line.TransactionId);
            var came = (await db.StockLines.AsNoTracking()
                .Where(line => ids.Contains(line.TransactionId) && line.LotId != null && line.LotId != concern.Lot && line.LocationId != null && line.Quantity > Quantity.Zero)
                .Select(line => new { line.TransactionId, LotId = line.LotId!.Value, line.PartId }).Distinct().ToListAsync(cancellation)).ToLookup(line => line.TransactionId);
            foreach (var line in some)
                foreach (var next in came[line.TransactionId])
                    if (Passed(concern, line.PartId, line.Act, line.Taken, next.PartId) is { } passed) found.Add((passed with { Lot = next.LotId }, line.TransactionId));
        }
        return found;
    }

    /// <summary>What a transaction passes on to a lot of a part, or null.</summary>
    /// <param name="taken">The act that it takes back, or null.</param>
    private static Concern? Passed(Concern concern, int partId, string act, string? taken, int nextPart)
    {
        if (act == KitWork.Build || taken == KitWork.BreakDown) return concern with { For = concern.For ?? partId };
        if (act != KitWork.BreakDown && taken != KitWork.Build) return concern;

        // Out of a kit comes what is bad in it; a kit within that went in bad is known already.
        return concern.For is null || concern.For == nextPart ? concern with { For = null } : null;
    }

    /// <summary>Pieces out of packs of the lot that a job pulled since and did not need.</summary>
    private async Task<List<(int Lot, long At)>> OutOfPacks(Concern concern, long from, CancellationToken cancellation)
    {
        var (lot, bad) = (concern.Lot, concern.For);
        var rows = await db.JobSurplus.AsNoTracking().Where(row => row.PackLotId == lot && row.LotId != null && row.TransactionId >= from && (bad == null || row.PartId == bad))
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
