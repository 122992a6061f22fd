namespace PartsLedger.Domain.Measures;

/// <summary>The units a flow is written in; stored as the volume of one minute, in microlitres. A US gallon is 3.785411784 L exactly.</summary>
public static class FlowUnits
{
    public static MeasureUnit LitrePerMinute { get; } = new("lpm", 1_000_000, 1, "l/min", "lpm", "litres/min");
    public static MeasureUnit MillilitrePerMinute { get; } = new("mlpm", 1_000, 1, "ml/min", "cc/min");

    /// <summary>What is written in gallons is rounded to the microlitre, half away from zero.</summary>
    public static MeasureUnit GallonPerMinute { get; } = new("gpm", 3_785_411_784, 1_000, "gpm", "gal/min", "US gal/min");

    public static IReadOnlyList<MeasureUnit> All { get; } = [LitrePerMinute, MillilitrePerMinute, GallonPerMinute];

    /// <summary>A flow below zero is refused as no number.</summary>
    /// <inheritdoc cref="MeasureReader.TryRead"/>
    public static bool TryRead(string? text, MeasureUnit? unit, out Volume perMinute, out MeasureFault fault)
    {
        perMinute = default;
        if (!MeasureReader.TryRead(text, unit, All, out var microlitres, out fault)) return false;
        if (microlitres < 0)
        {
            fault = MeasureFault.NotANumber;
            return false;
        }
        perMinute = Volume.FromMicrolitres(microlitres);
        return true;
    }
}
