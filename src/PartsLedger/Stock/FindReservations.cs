using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>What is reserved at this moment, by the list it was reserved with, oldest first. What has run out is left out, swept or not.</summary>
public static class FindReservations
{
    /// <param name="Job">Only this job's; null for every job's.</param>
    /// <param name="Part">Only of this part; null for every part.</param>
    [AllowedToEveryone]
    public sealed record Query(string? Job, string? Part, PageRequest Page) : IQuery<Page<Reservation>>;

    /// <param name="Open">What is neither pulled nor released; never empty.</param>
    public sealed record Reservation(
        long Id, string Job, string By, DateTimeOffset MadeAt, DateTimeOffset ExpiresAt, IReadOnlyList<PiecesAt> Open);

    public sealed class Handler(LedgerContext db, StockDesk desk, TimeProvider clock) : IQueryHandler<Query, Page<Reservation>>
    {
        public async Task<Outcome<Page<Reservation>>> Handle(Query query, CancellationToken cancellation)
        {
            var now = clock.GetUtcNow();
            var rows = db.Reservations.AsNoTracking().Where(row => row.ExpiresAt > now);
            if (query.Job is not null)
            {
                var key = Code.KeyOf(query.Job);
                rows = rows.Where(row => row.JobKey == key);
            }
            int? partId = null;
            if (query.Part is not null)
            {
                var part = await desk.Part(query.Part, cancellation);
                if (!part.Succeeded) return part.Refusal;
                partId = part.Result.Id;
            }
            if (query.Page.After is { } after)
            {
                if (!long.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out var last)) return PageRequest.BadCursor;
                rows = rows.Where(row => row.Id > last);
            }
            var found = await rows.Where(row => row.Lines.Any(line => line.Open != Quantity.Zero && (partId == null || line.PartId == partId)))
                .OrderBy(row => row.Id).Take(query.Page.First + 1)
                .Select(row => new
                {
                    row.Id, row.Job, row.MadeBy, row.MadeAt, row.ExpiresAt,
                    Open = row.Lines.Where(line => line.Open != Quantity.Zero && (partId == null || line.PartId == partId)).OrderBy(line => line.Id)
                        .Select(line => new PiecesAt(line.Part.Number, line.Balance.Location.Code, line.Balance.Lot!.Code, line.Balance.Condition, line.Open))
                        .ToList(),
                }).AsSingleQuery().ToListAsync(cancellation);
            return Page.Of(query.Page,
                found.ConvertAll(row => new Reservation(row.Id, row.Job, row.MadeBy, row.MadeAt, row.ExpiresAt, row.Open)),
                row => row.Id.ToString(CultureInfo.InvariantCulture));
        }
    }
}
