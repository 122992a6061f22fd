namespace PartsLedger.Domain.Measures;

/// <summary>The units a length is written in; stored in nanometres. An inch is 25.4 mm exactly.</summary>
public static class LengthUnits
{
    public static MeasureUnit Nanometre { get; } = new("nm", 1, 1, "nm");
    public static MeasureUnit Micrometre { get; } = new("um", Length.NanometresPerMicrometre, 1, "um", "µm", "μm");
    public static MeasureUnit Millimetre { get; } = new("mm", Length.NanometresPerMillimetre, 1, "mm");
    public static MeasureUnit Inch { get; } = new("in", Length.NanometresPerInch, 1, "in", "in.", "inch", "inches", "\"", "''", "″", "”");

    public static IReadOnlyList<MeasureUnit> All { get; } = [Nanometre, Micrometre, Millimetre, Inch];

    /// <inheritdoc cref="MeasureReader.TryRead"/>
    public static bool TryRead(string? text, MeasureUnit? unit, out Length length, out MeasureFault fault)
    {
        var read = MeasureReader.TryRead(text, unit, All, out var nanometres, out fault);
        length = Length.FromNanometres(nanometres);
        return read;
    }
}

/// <summary>The units a pressure is written in; stored in pascals. What is written in psi is rounded to the pascal, half away from zero.</summary>
public static class PressureUnits
{
    public static MeasureUnit Kilopascal { get; } = new("kpa", Pressure.PascalsPerKilopascal, 1, "kPa");
    public static MeasureUnit Bar { get; } = new("bar", Pressure.PascalsPerBar, 1, "bar");
    public static MeasureUnit Megapascal { get; } = new("mpa", Pressure.PascalsPerMegapascal, 1, "MPa");

    /// <summary>The fraction of <see cref="Pressure.PascalsPerPsi"/>.</summary>
    public static MeasureUnit Psi { get; } = new("psi", 8_896_443_230_521, 1_290_320_000, "psi", "lbf/in2", "lb/in2");

    public static IReadOnlyList<MeasureUnit> All { get; } = [Kilopascal, Bar, Megapascal, Psi];

    /// <inheritdoc cref="MeasureReader.TryRead"/>
    public static bool TryRead(string? text, MeasureUnit? unit, out Pressure pressure, out MeasureFault fault)
    {
        var read = MeasureReader.TryRead(text, unit, All, out var pascals, out fault);
        pressure = Pressure.FromPascals(pascals);
        return read;
    }
}

/// <summary>The units a displacement per revolution is written in; stored in microlitres.</summary>
public static class VolumeUnits
{
    public static MeasureUnit CubicCentimetre { get; } = new("cc", Volume.MicrolitresPerCubicCentimetre, 1,
        "cc", "cm3", "cm³", "ml", "cc/rev", "cm3/rev", "cm³/rev");

    public static IReadOnlyList<MeasureUnit> All { get; } = [CubicCentimetre];

    /// <summary>A volume below zero is refused as no number, since a <see cref="Volume"/> cannot hold it.</summary>
    /// <inheritdoc cref="MeasureReader.TryRead"/>
    public static bool TryRead(string? text, MeasureUnit? unit, out Volume volume, out MeasureFault fault)
    {
        volume = default;
        if (!MeasureReader.TryRead(text, unit, All, out var microlitres, out fault)) return false;
        if (microlitres < 0)
        {
            fault = MeasureFault.NotANumber;
            return false;
        }
        volume = Volume.FromMicrolitres(microlitres);
        return true;
    }
}
