using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Everything the shop has of a part: every place, lot and condition, with what is reserved and what may be used.</summary>
public static class OnHandOfPart
{
    [AllowedToEveryone]
    public sealed record Query(string Part) : IQuery<Answer>;

    /// <param name="Available">In good condition, in no quarantine place and not reserved: what a job may have.</param>
    /// <param name="Pieces">First to expire first, then by place; empty when there is nothing.</param>
    public sealed record Answer(string Part, Quantity OnHand, Quantity Reserved, Quantity Available, IReadOnlyList<PiecesOnHand> Pieces);

    public sealed class Handler(LedgerContext db, StockDesk desk, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var part = await desk.Part(query.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            var rows = await PiecesReader.Read(db, db.StockBalances.Where(row => row.PartId == part.Result.Id), clock.GetUtcNow(), cancellation);
            var pieces = rows.Select(row => row.Pieces).OrderBy(row => row.ExpiresOn ?? DateOnly.MaxValue)
                .ThenBy(row => row.Place, StringComparer.OrdinalIgnoreCase).ThenBy(row => row.Lot, StringComparer.Ordinal).ThenBy(row => row.Condition).ToList();
            return new Answer(part.Result.Number, pieces.Total(row => row.OnHand), pieces.Total(row => row.Reserved), pieces.Total(row => row.Available), pieces);
        }
    }
}
