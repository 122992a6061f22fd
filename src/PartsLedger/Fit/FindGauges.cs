using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>The shop's gauges by code, with when they are due.</summary>
public static class FindGauges
{
    [AllowedToEveryone]
    public sealed record Query(PageRequest Page) : IQuery<Page<Gauge>>;

    /// <param name="UncertaintyUm">Expanded, k = 2, in micrometres.</param>
    /// <param name="Overdue">Its due day is past: nothing is released by it.</param>
    /// <param name="Measurements">How many were taken with it.</param>
    public sealed record Gauge(string Code, string Kind, decimal UncertaintyUm, DateOnly? CalibratedOn, DateOnly? DueOn, bool Overdue, int Measurements);

    public sealed class Handler(LedgerContext db, TimeProvider clock) : IQueryHandler<Query, Page<Gauge>>
    {
        public async Task<Outcome<Page<Gauge>>> Handle(Query query, CancellationToken cancellation)
        {
            var today = DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime);
            var gauges = db.Gauges.AsNoTracking();
            if (query.Page.After is { } after) gauges = gauges.Where(row => string.Compare(row.CodeKey, after) > 0);
            var rows = await gauges.OrderBy(row => row.CodeKey).Take(query.Page.First + 1)
                .Select(row => new
                {
                    row.CodeKey, row.Code, row.Kind, row.Uncertainty, row.CalibratedOn, row.DueOn, Taken = db.Measurements.Count(taken => taken.GaugeId == row.Id),
                }).ToListAsync(cancellation);
            return Page.Of(query.Page, rows, row => row.CodeKey).Select(row =>
                new Gauge(row.Code, row.Kind, row.Uncertainty.ToMicrometres(), row.CalibratedOn, row.DueOn, row.DueOn < today, row.Taken));
        }
    }
}
