using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>What is bad in a lot of kits: a part in it, or something within a kit in it.</summary>
/// <param name="Part">The part in the kit, by id.</param>
/// <param name="Then">What is bad in that part, which is a kit itself; null when all of it is.</param>
internal sealed record Within(int Part, Within? Then = null);

/// <summary>A concerned lot.</summary>
/// <param name="Lot">By id.</param>
/// <param name="For">What in it is bad; null when all of it is.</param>
internal readonly record struct Concern(int Lot, Within? For = null);

/// <summary>
/// Where the pieces of lots have gone: into lots they were merged or split into, into kits built of them and out of kits that were broken
/// down, and out of opened packs back onto the shelf. A lot is concerned from the first transaction that brought such pieces into it; what
/// left it before is not. A lot of kits that is concerned for what went into it passes that on when it is broken down, and nothing else;
/// what goes back to the very lot it was taken from is as good or bad as it was.
/// </summary>
internal sealed class LotTrail(LedgerContext db)
{
    /// <param name="starts">The lots asked about, each with the transaction from which on it is concerned; 0 for always.</param>
    /// <param name="cancellation">Ends the walk.</param>
    /// <returns>Every lot that holds or held such pieces, with the transaction from which on it did.</returns>
    public async Task<IReadOnlyDictionary<int, long>> From(IEnumerable<(Concern Lot, long From)> starts, CancellationToken cancellation)
    {
        var (since, seen) = (new Dictionary<int, long>(), new HashSet<Concern>());
        var open = new PriorityQueue<Concern, long>(starts);
        while (open.TryDequeue(out var concern, out var from))
        {
            // Earliest first: what is found later for a lot cannot be earlier. What is true of all of it is true of each part in it.
            if (seen.Contains(concern with { For = null }) || !seen.Add(concern)) continue;
            since.TryAdd(concern.Lot, from);
            foreach (var (next, at) in (await IntoOtherLots(concern, from, cancellation))
                .Concat((await OutOfPacks(concern, from, cancellation)).Select(found => (new Concern(found.Lot, found.For), found.At))))
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
            .Select(line => new { line.TransactionId, line.PartId, line.Transaction.Act, Taken = line.Transaction.Reverses!.Act })
            .Distinct().ToListAsync(cancellation);
        if (left.Count == 0) return [];
        var own = concern.For is null ? [] : await WentInto(concern.Lot, cancellation);
        var found = new List<(Concern, long)>();
        foreach (var some in left.Chunk(900))
        {
            var ids = Array.ConvertAll(some, line => line.TransactionId);
            var came = (await db.StockLines.AsNoTracking()
                .Where(line => ids.Contains(line.TransactionId) && line.LotId != null && line.LotId != concern.Lot
                    && line.LocationId != null && line.Quantity > Quantity.Zero)
                .Select(line => new { line.TransactionId, LotId = line.LotId!.Value, line.PartId })
                .Distinct().ToListAsync(cancellation)).ToLookup(line => line.TransactionId);
            foreach (var line in some)
                foreach (var next in came[line.TransactionId])
                {
                    var opened = line.Act == KitWork.BreakDown || line.Taken == KitWork.Build;
                    if (opened && own.Contains(next.LotId)) continue;
                    if (Passed(concern.For, line.PartId, line.Act == KitWork.Build || line.Taken == KitWork.BreakDown, opened, next.PartId, out var passed))
                        found.Add((new Concern(next.LotId, passed), line.TransactionId));
                }
        }
        return found;
    }

    /// <summary>The lots that a lot of kits was built of.</summary>
    private async Task<HashSet<int>> WentInto(int kits, CancellationToken cancellation) =>
        [.. await db.KitBuilds.AsNoTracking().Where(build => build.LotId == kits)
            .Join(db.StockLines, build => build.TransactionId, line => line.TransactionId, (_, line) => line.LotId)
            .Where(lot => lot != null && lot != kits).Select(lot => lot!.Value).Distinct().ToListAsync(cancellation)];

    /// <summary>Whether a transaction passes what is bad on to a lot of a part, and what is then bad in that.</summary>
    private static bool Passed(Within? bad, int partId, bool built, bool opened, int nextPart, out Within? passed)
    {
        passed = built ? new Within(partId, bad) : opened ? bad?.Then : bad;
        return !opened || bad is null || bad.Part == nextPart;
    }

    /// <summary>Pieces out of packs of the lot that a job pulled since and did not need.</summary>
    private async Task<List<(int Lot, Within? For, long At)>> OutOfPacks(Concern concern, long from, CancellationToken cancellation)
    {
        var (lot, bad) = (concern.Lot, concern.For?.Part);
        var rows = await db.JobSurplus.AsNoTracking()
            .Where(row => row.PackLotId == lot && row.LotId != null && row.TransactionId >= from && (bad == null || row.PartId == bad))
            .Select(row => new { row.LotId, row.TransactionId, row.Job.NumberKey }).ToListAsync(cancellation);
        var found = new List<(int, Within?, long)>();
        foreach (var row in rows)
            if (await db.StockLines.AsNoTracking().AnyAsync(line => line.LotId == lot && line.Outside == OutsideWorld.Job
                && line.Quantity > Quantity.Zero && line.TransactionId >= from
                && line.TransactionId < row.TransactionId && line.Transaction.BelongsToRef == row.NumberKey,
                cancellation)) found.Add((row.LotId!.Value, concern.For?.Then, row.TransactionId!.Value));
        return found;
    }
}
