using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Jobs;

/// <summary>
/// A measured value in the unit its check asks for. Lengths, pressures, flows and torques are turned into each other as far as a decimal
/// goes; temperatures with their zero; any other unit must be written as the check writes it.
/// </summary>
public static class CheckMeasure
{
    // Torque is not kept anywhere else. A pound-force foot is 1.3558179483314004 N m: 4.4482216152605 N times 0.3048 m, both by definition;
    // as a fraction in lowest terms.
    private static readonly IReadOnlyList<MeasureUnit> Torques =
    [
        new("nm", 2_500_000_000_000_000, 1, "n m", "n·m"), new("lbfft", 3_389_544_870_828_501, 1, "lbf ft", "ft lbf"),
    ];

    private static readonly IReadOnlyList<MeasureUnit>[] Kinds = [LengthUnits.All, PressureUnits.All, FlowUnits.All, Torques];

    /// <summary>The value in <paramref name="wanted"/>; null when the two units are not of one kind.</summary>
    public static decimal? Convert(decimal value, string given, string wanted)
    {
        var (from, to) = (Key(given), Key(wanted));
        if (from == to) return value;
        if (IsFahrenheit(from) is { } fromFahrenheit && IsFahrenheit(to) is { } toFahrenheit)
            return fromFahrenheit == toFahrenheit ? value : fromFahrenheit ? (value - 32) * 5 / 9 : (value * 9 / 5) + 32;
        foreach (var kind in Kinds)
            if (Find(kind, from) is { } one && Find(kind, to) is { } other)
                return value * one.GrainsNumerator / one.GrainsDenominator * other.GrainsDenominator / other.GrainsNumerator;
        return null;
    }

    private static MeasureUnit? Find(IReadOnlyList<MeasureUnit> kind, string unit) =>
        kind.FirstOrDefault(one => one.Written.Contains(unit, StringComparer.OrdinalIgnoreCase));

    private static bool? IsFahrenheit(string unit) => unit switch { "°c" or "c" => false, "°f" or "f" => true, _ => null };

    private static string Key(string unit) => string.Join(' ', unit.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).ToLowerInvariant();
}
