using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// Bores and spools are measured: one or many at once, all kept or none. A repeat is another measurement that supersedes the one before;
/// nothing is overwritten.
/// </summary>
public static class RecordMeasurements
{
    public const int Most = 500;

    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, IReadOnlyList<Line> Lines) : IAct<Answer>;

    /// <param name="Readings">As written: one or more with <c>;</c> between them, in millimetres where no unit stands behind.</param>
    /// <param name="MilliCelsius">Of the piece while it was measured, in thousandths of a degree.</param>
    /// <param name="DepthsMm">Where each reading was taken, from the edge; as many as readings, or none.</param>
    /// <param name="Angles">Around the axis in degrees; as many as readings, or none.</param>
    /// <param name="TakenAt">Now when null.</param>
    /// <param name="By">Who measured; the sender when null.</param>
    public sealed record Line(
        string Unit, string Gauge, int MilliCelsius, string Readings, IReadOnlyList<decimal>? DepthsMm = null, IReadOnlyList<int>? Angles = null,
        DateTimeOffset? TakenAt = null, string? By = null);

    public sealed record Answer(IReadOnlyList<Measured> Units);

    /// <param name="Agreement">How it compares with the measurement it supersedes; null when there is none or its gauge's uncertainty is not known.</param>
    public sealed record Measured(
        string Tag, decimal SizeMm, decimal FormUm, decimal? RoundnessUm, decimal? TaperUm, string? Agreement, IReadOnlyList<string> Warnings);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Lines).Must(lines => lines is { Count: >= 1 and <= Most }).WithErrorCode("LINES_RANGE")
                .WithMessage($"Nothing, or more than {Most} measurements at once, cannot be recorded.").WithState(_ => "Send them in parts.");
            RuleForEach(c => c.Lines).ChildRules(line =>
            {
                line.RuleFor(l => l.Unit).Named("unit's tag");
                line.RuleFor(l => l.Gauge).Named("gauge");
                line.RuleFor(l => l.By).ShortText("name of who measured");
            });
        }
    }

    /// <summary>The readings with their places, or what is wrong with them.</summary>
    public static Outcome<IReadOnlyList<PlacedReading>> Place(Line line, Length? nominal)
    {
        var read = ReadingsReader.Read(line.Readings, nominal);
        if (!read.Succeeded) return read.Refusal;
        var lengths = read.Result;
        if ((line.DepthsMm is { } depths && depths.Count != lengths.Count) || (line.Angles is { } angles && angles.Count != lengths.Count))
            return new Refusal("PLACES_DO_NOT_MATCH", $"There are {lengths.Count} readings but another number of depths or angles.", "Give one for each reading, or none.");
        if (line.DepthsMm?.Any(depth => depth is < 0 or > 10_000) is true || line.Angles?.Any(angle => angle is < 0 or > 360) is true)
            return new Refusal("PLACE_RANGE", "A depth is below zero or beyond any pump, or an angle is not from 0 to 360.", "Give depths in millimetres from the edge, angles in degrees.");
        return lengths.Select((length, at) => new PlacedReading(length,
            line.DepthsMm is { } given ? Length.FromNanometres((long)decimal.Round(given[at] * Length.NanometresPerMillimetre)) : null,
            line.Angles?[at])).ToList();
    }

    public sealed class Handler(LedgerContext db, UnitDesk desk, MeasurementReckoning reckoning) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var measured = new List<Measured>();
            var taken = new HashSet<(int Unit, DateTimeOffset At)>();
            foreach (var line in act.Lines)
            {
                var one = await Record(line, taken, act.RequestId, context, cancellation);
                if (!one.Succeeded) return one.Refusal;
                measured.Add(one.Result);
            }
            await db.SaveChangesAsync(cancellation);
            return new Answer(measured);
        }

        private async Task<Outcome<Measured>> Record(
            Line line, HashSet<(int Unit, DateTimeOffset At)> taken, string requestId, ActContext context, CancellationToken cancellation)
        {
            var at = line.TakenAt is { } given ? given.AddTicks(-(given.Ticks % TimeSpan.TicksPerMicrosecond)) : context.Now;
            if (at > context.Now)
                return new Refusal("DATE_IN_FUTURE", $"{line.Unit.Trim()} cannot have been measured at a moment to come.", "Correct the moment, or leave it out for now.");
            var reckoned = await reckoning.Of(line, DateOnly.FromDateTime(context.Now.UtcDateTime), cancellation);
            if (!reckoned.Succeeded) return reckoned.Refusal;
            var (unit, family, gauge, readings, size, _) = reckoned.Result;
            var tag = unit.Tag;

            var of = unit.Role == UnitRole.Housing ? Characteristic.Bore : Characteristic.Spool;
            if (!taken.Add((unit.Id, at)) || await db.Measurements.AnyAsync(row => row.UnitId == unit.Id && row.Characteristic == of && row.TakenAt == at, cancellation))
                return new Refusal("MEASURED_AT_THAT_MOMENT", $"{tag} has a measurement of that very moment, and nothing that was measured is overwritten.", "Give the repeat its own moment.");
            var before = await db.Measurements.AsNoTracking().Include(row => row.Readings).Include(row => row.Gauge)
                .Where(row => row.UnitId == unit.Id && row.Characteristic == of && row.TakenAt < at).OrderByDescending(row => row.TakenAt).FirstOrDefaultAsync(cancellation);

            var row = new MeasurementRow
            {
                UnitId = unit.Id, Characteristic = of, TakenAt = at, GaugeId = gauge.Id, MilliCelsius = line.MilliCelsius,
                Who = line.By?.Trim() is { Length: > 0 } by ? by : context.Caller.Name,
            };
            foreach (var (index, reading) in readings.Index())
                row.Readings.Add(new ReadingRow { Sequence = index + 1, Diameter = reading.Diameter, Depth = reading.Depth, AngleDegrees = reading.AngleDegrees });
            db.Measurements.Add(row);
            desk.Write(context, requestId, "measured", $"{MeasureText.Millimetres(size.Size)} at 20 °C with gauge {gauge.Code}", unitId: unit.Id);

            return new Measured(tag, size.Size.ToMillimetres(), size.Form.ToMicrometres(), size.Roundness?.ToMicrometres(), size.Taper?.Difference.ToMicrometres(),
                before is null ? null : Compare(size, gauge, before, unit.Role, family), [.. reckoned.Result.Warnings]);
        }

        private static string? Compare(UnitSize size, GaugeRow gauge, MeasurementRow before, UnitRole role, FamilyFit family)
        {
            var earlier = SizedUnits.SizeOf(before, role, family);
            if (!earlier.Succeeded) return null;
            var compared = Repeatability.Of(earlier.Result.Size, before.Gauge.Uncertainty, size.Size, gauge.Uncertainty);
            if (!compared.Succeeded) return null;
            var by = $"{MeasureText.Micrometres(compared.Result.Difference)} from what {before.Who} measured with gauge {before.Gauge.Code}";
            return compared.Result.Agree ? $"It agrees: {by}, within the uncertainty of both." : $"IT DOES NOT AGREE: {by}, more than the uncertainty of both. Clean, let it take the room's temperature, measure again.";
        }
    }
}
