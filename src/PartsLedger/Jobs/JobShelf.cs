using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>What a job still has to fetch, where that lies, and how its reservations follow its list.</summary>
public sealed class JobShelf(LedgerContext db, JobDesk desk, StockDesk stock, StockReader reader)
{
    /// <summary>How the job stands with each part of its accepted list; empty before there is one.</summary>
    public async Task<IReadOnlyList<PullNeed>> Needs(JobRow job, CancellationToken cancellation) =>
        await Needs(job, await desk.InHand(job.NumberKey, cancellation), cancellation);

    /// <param name="pieces">What the job has in hand.</param>
    public async Task<IReadOnlyList<PullNeed>> Needs(JobRow job, IReadOnlyList<PiecesInHand> pieces, CancellationToken cancellation)
    {
        var list = await db.JobListLines.AsNoTracking().Where(row => row.List.JobId == job.Id && row.List.Revision == job.ListRevision
            && row.PartId != null)
            .OrderBy(row => row.Line).Select(row => new ListedPieces(row.Part!.Number, row.Quantity)).ToListAsync(cancellation);
        var shorts = await db.JobShorts.AsNoTracking().Where(row => row.JobId == job.Id).OrderBy(row => row.Id)
            .Select(row => new ShortPieces(row.Part.Number, row.Quantity, row.Substitute!.Number, row.SubstituteQuantity))
            .ToListAsync(cancellation);
        var inHand = pieces.GroupBy(one => one.Part).ToDictionary(group => group.Key, group => group.Total(one => one.Quantity));
        return PullNeed.Of(list, shorts, inHand);
    }

    /// <summary>Where to fetch what is left to pull, in walking order of the places, and what is nowhere to be had.</summary>
    public async Task<PickPlan> Plan(JobRow job, DateTimeOffset now, CancellationToken cancellation)
    {
        var plans = new List<PickPlan>();
        foreach (var need in (await Needs(job, cancellation)).Where(need => need.Left > Quantity.Zero))
        {
            var part = (await stock.Part(need.Part, cancellation)).Result;
            if (!await db.StockParts.AnyAsync(row => row.PartId == part.Id, cancellation))
            {
                // The shop has never had any.
                plans.Add(new PickPlan([], [(part.Number, need.Left)]));
                continue;
            }
            var hand = await reader.InHand(db, part.Id, cancellation);
            plans.Add(PickPlan.Of(part, need.Left, job.NumberKey, hand.Balances, hand.Open, now));
        }
        return PickPlan.Together(plans);
    }

    /// <summary>
    /// Frees what the job has reserved of these parts beyond what it may still pull, last reserved first. The caller has the turn on them.
    /// </summary>
    /// <param name="beyond">By part number as written.</param>
    public async Task<IReadOnlyList<PiecesAt>> Free(JobPieces pieces, IEnumerable<(string Part, Quantity Quantity)> beyond,
        CancellationToken cancellation)
    {
        var freed = new List<PiecesAt>();
        foreach (var (part, quantity) in beyond.Where(one => one.Quantity > Quantity.Zero))
        {
            var left = quantity;
            var closed = new List<(long Balance, Quantity Quantity)>();
            var lines = pieces.Reserved.Where(line => pieces.Numbers[line.PartId] == part).OrderByDescending(line => line.LineId).ToList();
            foreach (var line in lines)
            {
                var taken = Quantity.Min(left, line.Open);
                if (taken == Quantity.Zero) break;
                await Reservations.Close(db, line, taken, cancellation);
                closed.Add((line.BalanceId, taken));
                left -= taken;
            }
            if (closed.Count == 0) continue;
            var byBalance = closed.ToLookup(one => one.Balance, one => one.Quantity);
            freed.AddRange((await reader.InHand(db, lines[0].PartId, cancellation)).Balances.Where(balance => byBalance.Contains(balance.Id))
                .Select(balance => PiecesAt.Of(part, balance, byBalance[balance.Id].Total(one => one))));
        }
        return freed;
    }
}
