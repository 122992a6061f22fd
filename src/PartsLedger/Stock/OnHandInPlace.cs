using System.Globalization;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>What is in this bin: every part, lot and condition, by part number.</summary>
public static class OnHandInPlace
{
    [AllowedToEveryone]
    public sealed record Query(string Place, PageRequest Page) : IQuery<Page<PiecesOnHand>>;

    public sealed class Handler(LedgerContext db, StockDesk desk, TimeProvider clock) : IQueryHandler<Query, Page<PiecesOnHand>>
    {
        public async Task<Outcome<Page<PiecesOnHand>>> Handle(Query query, CancellationToken cancellation)
        {
            var place = await desk.Place(query.Place, cancellation);
            if (!place.Succeeded) return place.Refusal;
            var balances = db.StockBalances.Where(row => row.LocationId == place.Result.Id && row.OnHand != Quantity.Zero);
            if (query.Page.After is { } after)
            {
                // A canonical number has no dash in it, so the first one ends it.
                var cut = after.IndexOf('-', StringComparison.Ordinal);
                if (cut < 0 || !long.TryParse(after[(cut + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var id)) return PageRequest.BadCursor;
                var key = after[..cut];
                balances = balances.Where(row => string.Compare(row.Part.NumberKey, key) > 0 || (row.Part.NumberKey == key && row.Id > id));
            }
            var rows = await PiecesReader.Read(db, balances.OrderBy(row => row.Part.NumberKey).ThenBy(row => row.Id).Take(query.Page.First + 1),
                clock.GetUtcNow(), cancellation);
            rows = [.. rows.OrderBy(row => row.PartKey, StringComparer.Ordinal).ThenBy(row => row.Id)];
            return Page.Of(query.Page, rows, row => string.Create(CultureInfo.InvariantCulture, $"{row.PartKey}-{row.Id}")).Select(row => row.Pieces);
        }
    }
}
