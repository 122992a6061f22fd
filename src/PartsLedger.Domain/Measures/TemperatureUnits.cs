using System.Globalization;

namespace PartsLedger.Domain.Measures;

/// <summary>Temperatures as people write them, stored in thousandths of a degree Celsius.</summary>
public static class TemperatureUnits
{
    public static MeasureUnit Celsius { get; } = new("c", 1000, 1, "°C", "C");

    /// <summary>A degree Fahrenheit is 5/9 of a degree Celsius; 32 °F is 0 °C.</summary>
    public static MeasureUnit Fahrenheit { get; } = new("f", 5000, 9, "°F", "F");

    public static IReadOnlyList<MeasureUnit> All { get; } = [Celsius, Fahrenheit];

    /// <summary>More than anything in a shop, and little enough to be kept.</summary>
    private const decimal Most = 1_000_000;

    /// <param name="unit">The unit of a number that has none.</param>
    public static bool TryRead(string text, MeasureUnit unit, out int milliCelsius)
    {
        milliCelsius = 0;
        text = text.Trim();
        foreach (var known in All)
            if (known.Written.FirstOrDefault(word => text.EndsWith(word, StringComparison.OrdinalIgnoreCase)) is { } written)
            {
                (text, unit) = (text[..^written.Length].TrimEnd(), known);
                break;
            }
        if (!decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var degrees) || Math.Abs(degrees) > Most) return false;
        milliCelsius = ToMilliCelsius(degrees, unit);
        return true;
    }

    /// <summary>Thousandths of a degree Celsius, rounded half away from zero.</summary>
    public static int ToMilliCelsius(decimal degrees, MeasureUnit unit) => (int)decimal.Round(
        (unit == Fahrenheit ? degrees - 32 : degrees) * unit.GrainsNumerator / unit.GrainsDenominator, MidpointRounding.AwayFromZero);
}
