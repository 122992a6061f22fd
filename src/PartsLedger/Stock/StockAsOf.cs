using System.ComponentModel.DataAnnotations.Schema;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>What lay where at a past moment, added up from the ledger's lines: of a part, in a place, or of a part in a place.</summary>
public static class StockAsOf
{
    /// <param name="At">Acts of this very moment count as done.</param>
    /// <param name="Part">One of part and place is needed.</param>
    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(DateTimeOffset At, string? Part, string? Place, PageRequest Page) : IQuery<Page<Pieces>>;

    /// <param name="Value">What the lines brought there less what they took away. Moving pieces carries value along, so that a place's own
    /// figure may differ from its pieces' share of the part's value; over all places they add up.</param>
    public sealed record Pieces(string Part, string Name, string Place, string? Lot, StockCondition Condition, Quantity Quantity, Money Value);

    public sealed class Handler(LedgerContext db, StockDesk desk, TimeProvider clock) : IQueryHandler<Query, Page<Pieces>>
    {
        public async Task<Outcome<Page<Pieces>>> Handle(Query query, CancellationToken cancellation)
        {
            if (query.Part is null && query.Place is null)
                return new Refusal("PART_OR_PLACE_NEEDED", "Neither a part nor a place was given.", "Give a part, a place or both.");
            if (query.At > clock.GetUtcNow())
                return new Refusal("DATE_IN_FUTURE", "What will lie on the shelves later is not known.", "Give a moment that has been.");
            StockPart? part = null;
            if (query.Part is not null)
            {
                var found = await desk.Part(query.Part, cancellation);
                if (!found.Succeeded) return found.Refusal;
                part = found.Result;
            }
            StockPlace? place = null;
            if (query.Place is not null)
            {
                var found = await desk.Place(query.Place, cancellation);
                if (!found.Succeeded) return found.Refusal;
                place = found.Result;
            }
            var skip = 0;
            if (query.Page.After is { } after)
            {
                if (!int.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out skip)) return PageRequest.BadCursor;
            }

            // Grouped by the database and so as few as the places' balances; a past moment does not change, so a place in the list may be its number.
            var at = Instant.ToMicroseconds(query.At);
            var sums = await (part is null ? InPlace(place!.Id, at) : OfPart(part.Id, place?.Id ?? 0, at)).ToListAsync(cancellation);
            var pieces = sums.OrderBy(sum => sum.NumberKey, StringComparer.Ordinal).ThenBy(sum => sum.Place, StringComparer.Ordinal)
                .ThenBy(sum => sum.Lot, StringComparer.Ordinal).ThenBy(sum => sum.Condition, StringComparer.Ordinal)
                .Select((sum, index) => (Number: index + 1, Pieces: new Pieces(sum.Number, sum.Name, sum.Place, sum.Lot, Words.Parse<StockCondition>(sum.Condition),
                    Quantity.FromThousandths(sum.Quantity), Money.FromTenThousandths(sum.Value))))
                .Skip(skip).Take(query.Page.First + 1).ToList();
            return Page.Of(query.Page, pieces, row => row.Number.ToString(CultureInfo.InvariantCulture)).Select(row => row.Pieces);
        }

        private IQueryable<Sum> OfPart(int partId, int placeId, long at) => db.Database.SqlQuery<Sum>($"""
            select p.number_key, p.number, p.name, c.code as place, o.code as lot, s.condition, s.quantity, s.value
            from (select l.part_id, l.location_id, l.lot_id, l.condition, cast(sum(l.quantity) as bigint) as quantity, cast(sum(l.value) as bigint) as value
                  from stock_lines l join stock_transactions t on t.id = l.transaction_id
                  where l.part_id = {partId} and l.location_id is not null and ({placeId} = 0 or l.location_id = {placeId}) and t.at <= {at}
                  group by l.part_id, l.location_id, l.lot_id, l.condition having sum(l.quantity) <> 0) s
            join parts p on p.id = s.part_id join locations c on c.id = s.location_id left join lots o on o.id = s.lot_id
            """);

        private IQueryable<Sum> InPlace(int placeId, long at) => db.Database.SqlQuery<Sum>($"""
            select p.number_key, p.number, p.name, c.code as place, o.code as lot, s.condition, s.quantity, s.value
            from (select l.part_id, l.location_id, l.lot_id, l.condition, cast(sum(l.quantity) as bigint) as quantity, cast(sum(l.value) as bigint) as value
                  from stock_lines l join stock_transactions t on t.id = l.transaction_id
                  where l.location_id = {placeId} and t.at <= {at}
                  group by l.part_id, l.location_id, l.lot_id, l.condition having sum(l.quantity) <> 0) s
            join parts p on p.id = s.part_id join locations c on c.id = s.location_id left join lots o on o.id = s.lot_id
            """);

        /// <summary>A row as the statement names its columns.</summary>
        private sealed record Sum(
            [property: Column("number_key")] string NumberKey, [property: Column("number")] string Number, [property: Column("name")] string Name,
            [property: Column("place")] string Place, [property: Column("lot")] string? Lot, [property: Column("condition")] string Condition,
            [property: Column("quantity")] long Quantity, [property: Column("value")] long Value);
    }
}
