using System.Globalization;

namespace PartsLedger.Domain.Measures;

/// <summary>Measures in sentences: exact, with a point, without idle zeros, the unit behind them.</summary>
public static class MeasureText
{
    /// <summary><c>15.8761 mm</c>.</summary>
    public static string Millimetres(Length length) => $"{length.ToMillimetres().ToString("0.######", CultureInfo.InvariantCulture)} mm";

    /// <summary><c>12.3 µm</c>.</summary>
    public static string Micrometres(Length length) => $"{length.ToMicrometres().ToString("0.###", CultureInfo.InvariantCulture)} µm";

    /// <summary><c>21.6 °C</c>, from thousandths of a degree.</summary>
    public static string Celsius(int milliCelsius) => $"{(milliCelsius / 1000m).ToString("0.###", CultureInfo.InvariantCulture)} °C";
}
