using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// What everything on the shelves is worth, to the ten-thousandth what the ledger's lines inside the shop add up to. Quarantined pieces
/// count: they are the shop's.
/// </summary>
public static class StockValue
{
    /// <param name="ByPlace">Also says where it lies, each place at the part's average.</param>
    [Allowed(Role.Counter, Role.Administrator, Role.Reader)]
    [Heavy]
    [WrittenDown]
    public sealed record Query(bool ByPlace = false) : IQuery<Answer>;

    /// <param name="Parts">By part number; a part of which there is nothing is left out.</param>
    public sealed record Answer(Money Value, Costing Costing, IReadOnlyList<PartValue> Parts);

    /// <param name="UnitCost">Value by quantity, rounded half up to the ten-thousandth.</param>
    /// <param name="Places">By place; empty unless asked for. Their values add up to the part's.</param>
    public sealed record PartValue(string Part, string Name, string Unit, Quantity Quantity, Money Value, Money UnitCost, IReadOnlyList<PlaceValue> Places);

    public sealed record PlaceValue(string Place, Quantity Quantity, Money Value);

    public sealed class Handler(LedgerContext db, ShopSettings settings) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var costing = await settings.Costing(db, cancellation);

            // One statement, so that quantities and values are of the same moment.
            var rows = await db.StockParts.AsNoTracking().Where(row => row.OnHand != Quantity.Zero)
                .Select(row => new
                {
                    row.Part.NumberKey, row.Part.Number, row.Part.Name, row.Part.Unit, row.OnHand, row.Value,
                    Places = db.StockBalances.Where(balance => balance.PartId == row.PartId && balance.OnHand != Quantity.Zero)
                        .Select(balance => new { balance.Location.Code, balance.OnHand }).ToList(),
                }).AsSingleQuery().ToListAsync(cancellation);
            if (!query.ByPlace) rows.ForEach(row => row.Places.Clear());
            var parts = rows.OrderBy(row => row.NumberKey, StringComparer.Ordinal).Select(row => new PartValue(
                row.Number, row.Name, row.Unit, row.OnHand, row.Value, Holding.Share(row.Value, Quantity.FromWhole(1), row.OnHand),
                Spread(row.Value, row.OnHand, row.Places.GroupBy(place => place.Code).OrderBy(place => place.Key, StringComparer.Ordinal)
                    .Select(place => (place.Key, place.Total(one => one.OnHand)))))).ToList();
            return new Answer(parts.Aggregate(Money.Zero, (sum, part) => sum + part.Value), costing, parts);
        }

        /// <summary>Each place gets the difference of the rounded running shares, so that nothing is lost between them.</summary>
        private static List<PlaceValue> Spread(Money value, Quantity whole, IEnumerable<(string Place, Quantity Quantity)> places)
        {
            var spread = new List<PlaceValue>();
            var (upTo, given) = (Quantity.Zero, Money.Zero);
            foreach (var (place, quantity) in places)
            {
                upTo += quantity;
                var share = Holding.Share(value, upTo, whole);
                spread.Add(new PlaceValue(place, quantity, share - given));
                given = share;
            }
            return spread;
        }
    }
}
