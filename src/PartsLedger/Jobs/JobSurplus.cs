using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>Reads what a job has in hand out of packs and does not need.</summary>
public sealed class JobSurplus(LedgerContext db, JobDesk desk)
{
    /// <summary>What is still to be put back or kept with the kit.</summary>
    public async Task<IReadOnlyList<SurplusPieces>> Left(JobRow job, CancellationToken cancellation)
    {
        if (await desk.List(job, cancellation) is not { } list || list.Answer.Surplus.Count == 0) return [];
        var inHand = (await desk.InHand(job.NumberKey, cancellation)).Where(pieces => pieces.Quantity > Quantity.Zero).ToList();
        var packs = list.Row.Lines.Where(line => line.PartId is not null).Select(line => line.PartId!.Value)
            .Concat(inHand.Select(pieces => pieces.PartId)).Distinct().ToList();
        var inside = await PackPieces.Of(db, packs, cancellation);
        var ids = inside.Keys.Concat(inside.Values.SelectMany(pack => pack.Keys)).Distinct().ToList();
        var numbers = await db.Parts.AsNoTracking().Where(row => ids.Contains(row.Id)).ToDictionaryAsync(row => row.Id, row => row.Number,
            cancellation);
        var seenTo = (await db.JobSurplus.AsNoTracking().Where(row => row.JobId == job.Id)
            .Select(row => new { row.Part.Number, row.Quantity }).ToListAsync(cancellation))
            .GroupBy(row => row.Number).ToDictionary(group => group.Key, group => group.Total(row => row.Quantity));
        return SurplusPieces.Of(list.Lines, list.Answer.Surplus.GroupBy(one => one.Part)
            .ToDictionary(group => group.Key, group => group.Total(one => one.Quantity)),
            [.. inHand.Select(pieces => new PackInHand(pieces.Part, pieces.Lot, pieces.Quantity))],
            inside.ToDictionary(pack => numbers[pack.Key], pack => (IReadOnlyDictionary<string, Quantity>)pack.Value.ToDictionary(part =>
            numbers[part.Key], part => part.Value)),
            seenTo);
    }
}
