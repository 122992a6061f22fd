using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Fit;

/// <summary>What a measurement comes to before it is kept: its unit and gauge are found, its readings read, and their size at 20 °C reckoned.</summary>
public sealed class MeasurementReckoning(LedgerContext db, UnitDesk desk)
{
    /// <param name="Verdict">What the gauge may be trusted with today; a gauge that is too coarse was refused before.</param>
    public sealed record Reckoned(
        UnitRow Unit, FamilyFit Family, GaugeRow Gauge, IReadOnlyList<PlacedReading> Readings, UnitSize Size, GaugeVerdict Verdict)
    {
        public MeasuredHalf Half => new(Size.Size, Size.Form, Gauge.Uncertainty);

        /// <summary>What to beware of, in sentences.</summary>
        public IEnumerable<string> Warnings => Verdict.Warnings.Select(warning => $"{warning.Sentence} {warning.WhatToDo}")
            .Concat(Size.Beyond(Family.FormLimit) is { } form ? [form.ToString()] : []);
    }

    public async Task<Outcome<Reckoned>> Of(RecordMeasurements.Line line, DateOnly today, CancellationToken cancellation)
    {
        var found = await desk.Unit(line.Unit, cancellation);
        if (!found.Succeeded) return found.Refusal;
        var (unit, family) = (found.Result, FamilyFit.Of(found.Result.Family));
        if (unit.State is UnitState.Condemned or UnitState.Gone) return UnitRefusals.NotUsable(unit);
        var gaugeKey = Code.KeyOf(line.Gauge);
        if (await db.Gauges.AsNoTracking().SingleOrDefaultAsync(row => row.CodeKey == gaugeKey, cancellation) is not { } gauge)
        {
            var near = Nearest.To(line.Gauge.Trim(), await db.Gauges.Select(row => row.Code).ToListAsync(cancellation));
            return new Refusal("UNKNOWN_GAUGE", $"There is no gauge '{line.Gauge.Trim()}'.",
                near.Count == 0 ? "Import the shop's gauges with their uncertainty first." : $"The nearest known ones are {string.Join(", ", near)}.");
        }
        var placed = RecordMeasurements.Place(line, family.Bore);
        if (!placed.Succeeded) return About(unit, placed.Refusal);
        var metal = family.Metal(unit.Role, line.MilliCelsius);
        if (!metal.Succeeded) return About(unit, metal.Refusal);
        var size = UnitSize.Of(placed.Result, line.MilliCelsius, metal.Result, family.Bore);
        if (!size.Succeeded) return About(unit, size.Refusal);
        var verdict = family.Limits.Succeeded
            ? GaugeRules.Judge(SizedUnits.GaugeOf(gauge), family.Limits.Result.Tolerance, GaugeUse.Sorting, today) : new GaugeVerdict(null, []);
        return verdict.Refused is { } coarse ? About(unit, coarse) : new Reckoned(unit, family, gauge, placed.Result, size.Result, verdict);
    }

    private static Refusal About(UnitRow unit, Refusal refusal) => refusal with { Sentence = $"{unit.Tag}: {refusal.Sentence}" };
}
