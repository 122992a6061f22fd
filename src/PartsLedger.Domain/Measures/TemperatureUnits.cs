namespace PartsLedger.Domain.Measures;

/// <summary>Temperatures as people write them, stored in thousandths of a degree Celsius.</summary>
public static class TemperatureUnits
{
    public static MeasureUnit Celsius { get; } = new("c", 1000, 1, "°C", "C");

    /// <summary>A degree Fahrenheit is 5/9 of a degree Celsius; 32 °F is 0 °C.</summary>
    public static MeasureUnit Fahrenheit { get; } = new("f", 5000, 9, "°F", "F");

    public static IReadOnlyList<MeasureUnit> All { get; } = [Celsius, Fahrenheit];

    /// <summary>Thousandths of a degree Celsius, rounded half away from zero.</summary>
    public static int ToMilliCelsius(decimal degrees, MeasureUnit unit) => (int)decimal.Round(
        (unit == Fahrenheit ? degrees - 32 : degrees) * unit.GrainsNumerator / unit.GrainsDenominator, MidpointRounding.AwayFromZero);
}
