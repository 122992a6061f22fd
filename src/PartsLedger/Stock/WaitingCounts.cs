using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// Counts that found a large difference and wait for a second count, oldest first. Says neither what was counted nor what the ledger has:
/// the second count is blind too.
/// </summary>
public static class WaitingCounts
{
    /// <param name="Place">Only in this place; null for every place.</param>
    [AllowedToEveryone]
    public sealed record Query(string? Place, PageRequest Page) : IQuery<Page<Waiting>>;

    public sealed record Waiting(long Id, string Part, string Name, string Place, string? Lot, StockCondition Condition, DateTimeOffset At, string By);

    public sealed class Handler(LedgerContext db, StockDesk desk) : IQueryHandler<Query, Page<Waiting>>
    {
        public async Task<Outcome<Page<Waiting>>> Handle(Query query, CancellationToken cancellation)
        {
            var rows = db.StockCounts.AsNoTracking().Where(row => row.Waiting);
            if (query.Place is not null)
            {
                var place = await desk.Place(query.Place, cancellation);
                if (!place.Succeeded) return place.Refusal;
                rows = rows.Where(row => row.LocationId == place.Result.Id);
            }
            if (query.Page.After is { } after)
            {
                if (!long.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out var last)) return PageRequest.BadCursor;
                rows = rows.Where(row => row.Id > last);
            }
            var found = await rows.OrderBy(row => row.Id).Take(query.Page.First + 1)
                .Select(row => new Waiting(row.Id, row.Part.Number, row.Part.Name, row.Location.Code,
                    db.Lots.Where(lot => lot.Id == row.LotSlot).Select(lot => lot.Code).FirstOrDefault(), row.Condition, row.At, row.Who))
                .ToListAsync(cancellation);
            return Page.Of(query.Page, found, row => row.Id.ToString(CultureInfo.InvariantCulture));
        }
    }
}
