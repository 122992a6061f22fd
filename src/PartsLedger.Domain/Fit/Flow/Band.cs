using System.Globalization;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Flow;

/// <summary>
/// A figure and the interval it is known to lie in. Bands are carried through a formula as intervals: the result lies in its band whenever
/// every input lies in its own, which is wider and safer than adding squares. Always finite, and low ≤ value ≤ high.
/// </summary>
public sealed record Band
{
    private Band(double value, double low, double high)
    {
        if (!double.IsFinite(low) || !double.IsFinite(high) || !(low <= value && value <= high))
            throw new ArgumentException($"{low} ≤ {value} ≤ {high} does not hold or is not finite.", nameof(value));
        (Value, Low, High) = (value, low, high);
    }

    public double Value { get; }
    public double Low { get; }
    public double High { get; }

    public static Band Exactly(double value) => new(value, value, value);

    public static Band PlusMinus(double value, double half) => new(value, value - half, value + half);

    /// <param name="percent">Of the value, either way.</param>
    public static Band Percent(double value, double percent) => PlusMinus(value, Math.Abs(value) * percent / 100);

    /// <param name="value">The middle when it is left out.</param>
    public static Band Between(double low, double high, double? value = null) => new(value ?? (low + high) / 2, low, high);

    /// <summary>
    /// The formula's value at the inputs' values, and its least and greatest value at the corners of their bands. That is the exact interval for
    /// a formula that only rises or only falls in each input, which every formula here does. At most twelve inputs.
    /// </summary>
    public static Band Through(Func<IReadOnlyList<double>, double> formula, params IReadOnlyList<Band> inputs)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(inputs.Count, 12);
        var value = formula([.. inputs.Select(input => input.Value)]);
        var (low, high) = (value, value);
        for (var corner = 0; corner < 1 << inputs.Count; corner++)
        {
            var there = formula([.. inputs.Select((input, at) => (corner >> at & 1) == 0 ? input.Low : input.High)]);
            (low, high) = (Math.Min(low, there), Math.Max(high, there));
        }
        return new Band(value, low, high);
    }

    /// <summary>Refusal <c>INPUT_NOT_POSITIVE</c> where any of the named bands reaches zero or below.</summary>
    internal static Refusal? AllPositive(params IEnumerable<(string Name, Band Band)> inputs) => inputs
        .Where(input => input.Band.Low <= 0).Select(input => new Refusal("INPUT_NOT_POSITIVE",
            $"The {input.Name} of {input.Band} is not above zero throughout.", "Check the number, its unit and its band.")).FirstOrDefault();

    /// <summary>
    /// Without false digits: <c>2.8 (1.6 to 4.4)</c>. Half of the band's width is shown with one digit, or two where the first is a 1 or a 2, and
    /// the ends are rounded outwards; an exact figure is shown with four.
    /// </summary>
    public override string ToString()
    {
        var half = (High - Low) / 2;
        if (half <= Math.Abs(Value) * 1e-9) return Digits(Value, Value == 0 ? 0 : Place(Math.Abs(Value)) - 3, Math.Round);
        var place = Place(half);
        if (half / Math.Pow(10, place) < 3) place--;
        return $"{Digits(Value, place, Math.Round)} ({Digits(Low, place, Math.Floor)} to {Digits(High, place, Math.Ceiling)})";
    }

    private static int Place(double value) => (int)Math.Floor(Math.Log10(value));

    private static string Digits(double value, int place, Func<double, double> round)
    {
        // A hair is allowed for, so that 0.3 is not rounded outwards to 0.4 for its last bit.
        var steps = value / Math.Pow(10, place);
        var whole = Math.Abs(steps - Math.Round(steps)) < 1e-6 ? Math.Round(steps) : round(steps);
        return (whole * Math.Pow(10, place)).ToString($"F{Math.Clamp(-place, 0, 12)}", CultureInfo.InvariantCulture);
    }
}
