using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>Every measurement of a unit, the latest first, each compared with the one before it.</summary>
public static class MeasurementsOf
{
    /// <summary>More of one unit is shown by nobody's wish.</summary>
    public const int Most = 200;

    [AllowedToEveryone]
    public sealed record Query(string Tag) : IQuery<Answer>;

    public sealed record Answer(string Tag, IReadOnlyList<Entry> Entries);

    /// <param name="SizeMm">At 20 °C; null where the readings cannot be used.</param>
    /// <param name="Agrees">With the measurement before: the difference is within the uncertainty of both; null for the first.</param>
    /// <param name="EnNumber">The difference in parts of that uncertainty: up to 1 they agree.</param>
    public sealed record Entry(
        DateTimeOffset TakenAt, string By, string Gauge, decimal UncertaintyUm, decimal Celsius, IReadOnlyList<decimal> ReadingsMm, decimal? SizeMm,
        decimal? FormUm, string? Problem, bool? Agrees, double? EnNumber);

    public sealed class Handler(LedgerContext db, UnitDesk desk) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var unit = await desk.Unit(query.Tag, cancellation);
            if (!unit.Succeeded) return unit.Refusal;
            var (id, role, family) = (unit.Result.Id, unit.Result.Role, FamilyFit.Of(unit.Result.Family));
            var rows = await db.Measurements.AsNoTracking().Include(row => row.Readings).Include(row => row.Gauge).Where(row => row.UnitId == id)
                .OrderByDescending(row => row.TakenAt).Take(Most).ToListAsync(cancellation);
            var sizes = rows.ConvertAll(row => SizedUnits.SizeOf(row, role, family));
            var entries = new List<Entry>();
            for (var at = 0; at < rows.Count; at++)
            {
                var (row, size) = (rows[at], sizes[at]);
                Repeatability? compared = null;
                if (at + 1 < rows.Count && size.Succeeded && sizes[at + 1] is { Succeeded: true } before
                    && Repeatability.Of(before.Result.Size, rows[at + 1].Gauge.Uncertainty, size.Result.Size, row.Gauge.Uncertainty) is { Succeeded: true } made)
                    compared = made.Result;
                entries.Add(new Entry(row.TakenAt, row.Who, row.Gauge.Code, row.Gauge.Uncertainty.ToMicrometres(), row.MilliCelsius / 1000m,
                    [.. row.Readings.OrderBy(reading => reading.Sequence).Select(reading => reading.Diameter.ToMillimetres())],
                    size.Succeeded ? size.Result.Size.ToMillimetres() : null, size.Succeeded ? size.Result.Form.ToMicrometres() : null,
                    size.Succeeded ? null : size.Refusal.ToString(), compared?.Agree, compared?.EnNumber));
            }
            return new Answer(unit.Result.Tag, entries);
        }
    }
}
