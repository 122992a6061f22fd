using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Fit;

/// <summary>What a family says of its fit.</summary>
/// <param name="Limits">Or why its clearances cannot be used.</param>
public sealed record FamilyFit(
    int Id, string Code, Outcome<ClearanceLimits> Limits, Length? Bore, Length? FormLimit, string? HousingMaterial, string? ValveMaterial)
{
    public static FamilyFit Of(FamilyRow family) => new(family.Id, family.Code,
        family is { ClearanceMin: { } min, ClearanceTarget: { } target, ClearanceMax: { } max } ? ClearanceLimits.Of(min, target, max)
            : new Refusal("LIMITS_MISSING", $"Family {family.Code} states no clearances.", "Enter its smallest, best and largest clearance first."),
        family.Bore, family.FormLimit, family.HousingMaterial, family.ValveMaterial);

    /// <summary>How the metal of one half grows with heat. At 20 °C it does not matter which metal it is.</summary>
    public Outcome<ThermalExpansion> Metal(UnitRole role, int milliCelsius)
    {
        var material = role == UnitRole.Housing ? HousingMaterial : ValveMaterial;
        return string.IsNullOrWhiteSpace(material) && milliCelsius == ThermalExpansion.ReferenceMilliCelsius ? ThermalExpansion.Steel : ThermalExpansion.Of(material);
    }
}

/// <summary>A tagged unit with what its latest measurement says of its size.</summary>
/// <param name="MeasurementId">Of the latest measurement; null when it has none.</param>
/// <param name="Refused">Why it cannot be paired as it is; null when it can.</param>
public sealed record SizedUnit(
    int Id, string Tag, string TagKey, UnitRole Role, int? ClassId, int? CoreId, string? Job, long? MeasurementId, UnitSize? Size, Length Uncertainty,
    Refusal? Refused, IReadOnlyList<GaugeWarning> Warnings)
{
    public MeasuredHalf Half => new(Size!.Size, Size.Form, Uncertainty);

    /// <summary><see cref="Refused"/>, saying which unit it is about.</summary>
    public Refusal? RefusedByTag => Refused is { } refused ? refused with { Sentence = $"{Tag}: {refused.Sentence}" } : null;
}

/// <summary>Reads units with the sizes that their latest measurements give. A repeated measurement supersedes the earlier one.</summary>
public sealed class SizedUnits(LedgerContext db)
{
    /// <param name="units">All of one family.</param>
    /// <param name="family">That family.</param>
    /// <param name="use">What the gauges are to be trusted with.</param>
    /// <param name="today">The day by which a gauge is due or not.</param>
    /// <param name="cancellation">Ends the reading.</param>
    /// <returns>In the order of their tags.</returns>
    public async Task<IReadOnlyList<SizedUnit>> Read(
        IQueryable<UnitRow> units, FamilyFit family, GaugeUse use, DateOnly today, CancellationToken cancellation)
    {
        var rows = await units.AsNoTracking()
            .Select(row => new { row.Id, row.Tag, row.TagKey, row.Role, row.PressureClassId, row.CoreId, row.Job }).ToListAsync(cancellation);
        var latest = await db.Measurements.AsNoTracking().Include(row => row.Readings).Include(row => row.Gauge)
            .Where(row => units.Any(unit => unit.Id == row.UnitId)
                && !db.Measurements.Any(later => later.UnitId == row.UnitId && later.Characteristic == row.Characteristic && later.TakenAt > row.TakenAt))
            .AsSplitQuery().ToListAsync(cancellation);
        var byUnit = latest.ToLookup(row => row.UnitId);
        return [.. rows.OrderBy(row => row.TagKey, StringComparer.Ordinal).Select(row =>
        {
            var measured = byUnit[row.Id].FirstOrDefault(one => (one.Characteristic == Characteristic.Bore) == (row.Role == UnitRole.Housing));
            var (size, uncertainty, refused, warnings) = Judge(row.Role, measured, family, use, today);
            return new SizedUnit(row.Id, row.Tag, row.TagKey, row.Role, row.PressureClassId, row.CoreId, row.Job, measured?.Id, size, uncertainty, refused, warnings);
        })];
    }

    /// <summary>A housing and a valve of one family, for judging whether they fit.</summary>
    public async Task<(SizedUnit Housing, SizedUnit Valve)> Read(
        UnitRow housing, UnitRow valve, FamilyFit family, DateOnly today, CancellationToken cancellation)
    {
        var (one, other) = (housing.Id, valve.Id);
        var read = await Read(db.Units.Where(row => row.Id == one || row.Id == other), family, GaugeUse.Sorting, today, cancellation);
        return (read.Single(unit => unit.Id == one), read.Single(unit => unit.Id == other));
    }

    /// <summary>What a measurement says of its unit at 20 °C, or why it says nothing that can be used.</summary>
    public static Outcome<UnitSize> SizeOf(MeasurementRow measurement, UnitRole role, FamilyFit family) =>
        family.Metal(role, measurement.MilliCelsius).Then(metal => UnitSize.Of(
            [.. measurement.Readings.OrderBy(row => row.Sequence).Select(row => new PlacedReading(row.Diameter, row.Depth, row.AngleDegrees))],
            measurement.MilliCelsius, metal, family.Bore));

    /// <summary>The latest measurement's gauge of each of these units that has been measured.</summary>
    public async Task<IReadOnlyDictionary<int, Gauge>> Gauges(IReadOnlyList<int> unitIds, CancellationToken cancellation) =>
        (await db.Measurements.AsNoTracking().Include(row => row.Gauge).Where(row => unitIds.Contains(row.UnitId)
            && !db.Measurements.Any(later => later.UnitId == row.UnitId && later.TakenAt > row.TakenAt)).ToListAsync(cancellation))
        .DistinctBy(row => row.UnitId).ToDictionary(row => row.UnitId, row => GaugeOf(row.Gauge));

    /// <summary>Null when what was measured with the gauge may be released by it today.</summary>
    public static Refusal? MayRelease(Gauge gauge, FamilyFit family, DateOnly today) => GaugeRules.Judge(gauge,
        family.Limits.Succeeded ? family.Limits.Result.Tolerance : Length.FromNanometres(gauge.Uncertainty.Nanometres * GaugeRules.WarnBelowRatio),
        GaugeUse.Release, today).Refused;

    public static Gauge GaugeOf(GaugeRow row) => new(row.Code, row.Uncertainty, row.CalibratedOn, row.DueOn);

    private static (UnitSize? Size, Length Uncertainty, Refusal? Refused, IReadOnlyList<GaugeWarning> Warnings) Judge(
        UnitRole role, MeasurementRow? measured, FamilyFit family, GaugeUse use, DateOnly today)
    {
        if (measured is null) return (null, Length.Zero, new Refusal("NOT_MEASURED", "It has not been measured.", "Measure it."), []);
        var size = SizeOf(measured, role, family);
        if (!size.Succeeded) return (null, Length.Zero, size.Refusal, []);
        var verdict = family.Limits.Succeeded ? GaugeRules.Judge(GaugeOf(measured.Gauge), family.Limits.Result.Tolerance, use, today) : new GaugeVerdict(null, []);
        return (size.Result, measured.Gauge.Uncertainty, size.Result.Beyond(family.FormLimit) ?? verdict.Refused, verdict.Warnings);
    }
}
