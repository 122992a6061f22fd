using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>
/// What a bore or a spool measures, at 20 °C. Every figure is reckoned exactly from the readings and rounded once to whole nanometres,
/// half away from zero.
/// </summary>
/// <param name="Size">Mean of the readings.</param>
/// <param name="Form">Largest reading minus smallest; zero for a single reading, which says nothing of the form.</param>
/// <param name="Roundness">
/// Largest minus smallest reading at one depth, at the depth where that is most; null unless some depth has two. These are diameters: an
/// odd number of lobes does not show in them.
/// </param>
/// <param name="Taper">Null unless there are readings at two depths.</param>
/// <param name="Readings">How many there are.</param>
public sealed record UnitSize(Length Size, Length Form, Length? Roundness, Taper? Taper, int Readings)
{
    /// <summary>More readings of one piece than anybody takes.</summary>
    public const int MostReadings = 1_000;

    /// <summary>
    /// Refusals, the first that applies: <c>NO_READINGS</c>, <c>TOO_MANY_READINGS</c>, <c>TEMPERATURE_RANGE</c>, <c>READING_NOT_POSITIVE</c>,
    /// <c>READING_UNIT</c>, <c>READING_FAR</c>, <c>SPREAD_IMPOSSIBLE</c>.
    /// </summary>
    /// <param name="nominal">The family's bore where it is known: readings in a wrong unit are found by it.</param>
    public static Outcome<UnitSize> Of(IReadOnlyList<PlacedReading> readings, int milliCelsius, ThermalExpansion metal, Length? nominal = null)
    {
        if (readings.Count == 0) return new Refusal("NO_READINGS", "There is no reading.", "Take at least one; six at three depths tell the form as well.");
        if (readings.Count > MostReadings)
            return new Refusal("TOO_MANY_READINGS", $"There are {readings.Count} readings of one piece; {MostReadings} are the most.", "Check that the file's rows are not run together.");
        if (Plausible.Temperature(milliCelsius) is { } temperature) return temperature;
        for (var at = 0; at < readings.Count; at++)
            if (Plausible.Reading(readings[at].Diameter, nominal, $"Reading {at + 1}") is { } odd) return odd;

        var (smallest, largest) = (readings.Min(reading => reading.Diameter), readings.Max(reading => reading.Diameter));
        if (Plausible.Spread(smallest, largest) is { } spread) return spread;

        return new UnitSize(
            metal.MeanAt20(Sum(readings), readings.Count, milliCelsius),
            metal.At20(largest - smallest, milliCelsius),
            RoundnessOf(readings) is { } roundness ? metal.At20(roundness, milliCelsius) : null,
            Taper.Of(readings, milliCelsius, metal),
            readings.Count);
    }

    /// <summary>Refusal <c>FORM_BEYOND_LIMIT</c> where the piece is further from a cylinder than its family allows.</summary>
    public Refusal? Beyond(Length? formLimit) => formLimit is not { } limit || Form <= limit ? null : new Refusal("FORM_BEYOND_LIMIT",
        $"Its readings differ by {MeasureText.Micrometres(Form)}; the family allows {MeasureText.Micrometres(limit)}.",
        "It cannot be paired as it is: measure again after cleaning, then grade it.");

    internal static Int128 Sum(IEnumerable<PlacedReading> readings) => readings.Aggregate(Int128.Zero, (sum, reading) => sum + reading.Diameter.Nanometres);

    private static Length? RoundnessOf(IReadOnlyList<PlacedReading> readings) => readings
        .Where(reading => reading.Depth is not null).GroupBy(reading => reading.Depth!.Value).Where(depth => depth.Count() > 1)
        .Select(depth => (Length?)(depth.Max(reading => reading.Diameter) - depth.Min(reading => reading.Diameter))).Max();
}
