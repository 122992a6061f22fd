using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>Everything that ever happened to a unit, oldest first: among it every partner it has had.</summary>
public static class UnitHistory
{
    [AllowedToEveryone]
    public sealed record Query(string Tag) : IQuery<Answer>;

    /// <param name="Partners">Tags of the other halves of every pair it has ever been in, in that order.</param>
    public sealed record Answer(string Tag, IReadOnlyList<string> Partners, IReadOnlyList<Entry> Entries);

    public sealed record Entry(DateTimeOffset At, string Who, string What, string? Detail, string? Why, string? Pair);

    public sealed class Handler(LedgerContext db, UnitDesk desk) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var unit = await desk.Unit(query.Tag, cancellation);
            if (!unit.Succeeded) return unit.Refusal;
            var id = unit.Result.Id;

            // A pair's own events are its halves' events for as long as they were in it.
            var pairs = await db.UnitEvents.AsNoTracking().Where(row => row.UnitId == id && row.PairId != null).Select(row => row.PairId!.Value)
                .Distinct().ToListAsync(cancellation);
            var entries = await db.UnitEvents.AsNoTracking()
                .Where(row => row.UnitId == id || (row.UnitId == null && row.PairId != null && pairs.Contains(row.PairId.Value))).OrderBy(row => row.Id)
                .Select(row => new Entry(row.At, row.Who, row.What, row.Detail, row.Why, row.Pair!.Code)).ToListAsync(cancellation);
            var partners = await db.UnitEvents.AsNoTracking()
                .Where(row => row.What == "paired" && row.UnitId != id && row.PairId != null && pairs.Contains(row.PairId.Value)).OrderBy(row => row.Id)
                .Select(row => row.Unit!.Tag).ToListAsync(cancellation);
            return new Answer(unit.Result.Tag, partners, entries);
        }
    }
}
