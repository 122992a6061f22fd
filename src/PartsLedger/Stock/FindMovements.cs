using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>The ledger's lines of one part, latest first: what came to or left which place, when, by whom and why.</summary>
public static class FindMovements
{
    /// <param name="Place">Only lines of this place; null for all, the outside world's too.</param>
    /// <param name="Lot">Only of this lot.</param>
    /// <param name="Act">Only of this act, in its one word: <c>receive</c>, <c>move</c>, <c>pull</c> …</param>
    /// <param name="Job">Only what belongs to this job, or takes back what belongs to it.</param>
    /// <param name="From">At this moment or later.</param>
    /// <param name="Before">Earlier than this moment.</param>
    [AllowedToEveryone]
    public sealed record Query(
        string Part, PageRequest Page, string? Place = null, string? Lot = null, string? Act = null, string? Job = null, DateTimeOffset? From = null,
        DateTimeOffset? Before = null) : IQuery<Page<Line>>;

    /// <param name="Place">Null when the pieces came from or went to the outside world.</param>
    /// <param name="Quantity">Above zero what came, below zero what left.</param>
    /// <param name="Value">What the pieces carry along, with the quantity's sign.</param>
    public sealed record Line(
        long Id, long Transaction, string Act, DateTimeOffset At, string Who, string? Why, string? BelongsTo, string? Reference, long? Reverses,
        string Part, string? Place, OutsideWorld? Outside, string? Lot, StockCondition Condition, Quantity Quantity, Money UnitCost, Money Value);

    public sealed class Handler(LedgerContext db, StockDesk desk) : IQueryHandler<Query, Page<Line>>
    {
        public async Task<Outcome<Page<Line>>> Handle(Query query, CancellationToken cancellation)
        {
            var part = await desk.Part(query.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            if (query.From >= query.Before)
                return new Refusal("DATES_REVERSED", "The time asked about ends before it begins.", "Give the earlier moment as the beginning.");
            var partId = part.Result.Id;
            var lines = db.StockLines.AsNoTracking().Where(line => line.PartId == partId);
            if (query.Place is not null)
            {
                var place = await desk.Place(query.Place, cancellation);
                if (!place.Succeeded) return place.Refusal;
                var placeId = place.Result.Id;
                lines = lines.Where(line => line.LocationId == placeId);
            }
            if (query.Lot is not null)
            {
                var lot = await desk.Lot(part.Result, query.Lot, cancellation);
                if (!lot.Succeeded) return lot.Refusal;
                var lotId = lot.Result.Id;
                lines = lines.Where(line => line.LotId == lotId);
            }
            if (query.Act is not null)
            {
                var act = query.Act.Trim().ToLowerInvariant();
                lines = lines.Where(line => line.Transaction.Act == act);
            }
            if (query.Job is not null)
            {
                var key = Code.KeyOf(query.Job);
                lines = lines.Where(line => (line.Transaction.BelongsTo == JobWork.BelongsTo && line.Transaction.BelongsToRef == key)
                    || (line.Transaction.Reverses!.BelongsTo == JobWork.BelongsTo && line.Transaction.Reverses!.BelongsToRef == key));
            }
            if (query.From is { } from) lines = lines.Where(line => line.Transaction.At >= from);
            if (query.Before is { } before) lines = lines.Where(line => line.Transaction.At < before);
            if (query.Page.After is { } after)
            {
                if (!long.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out var last)) return PageRequest.BadCursor;
                lines = lines.Where(line => line.Id < last);
            }
            var found = await lines.OrderByDescending(line => line.Id).Take(query.Page.First + 1)
                .Select(line => new Line(line.Id, line.TransactionId, line.Transaction.Act, line.Transaction.At, line.Transaction.Who, line.Transaction.Why,
                    line.Transaction.BelongsTo, line.Transaction.BelongsToRef, line.Transaction.ReversesId, line.Part.Number, line.Location!.Code, line.Outside,
                    line.Lot!.Code, line.Condition, line.Quantity, line.UnitCost, line.Value))
                .ToListAsync(cancellation);
            return Page.Of(query.Page, found, line => line.Id.ToString(CultureInfo.InvariantCulture));
        }
    }
}
