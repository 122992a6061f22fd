using System.Globalization;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>What can be a reading at all. A wrong unit is out by a factor, so it is found by trying the factors people get wrong.</summary>
public static class Plausible
{
    /// <summary>A reading is within a tenth of the family's bore: worn or oversize pieces are far closer, wrong units far further off.</summary>
    public const int ShareOfNominal = 10;

    /// <summary>
    /// The readings of one unit differ by a two-hundredth of the size at most (79 µm on 15.875 mm). That is some twenty times the form limit
    /// of any family: beyond it a digit was mistyped or another piece was measured.
    /// </summary>
    public const int ShareOfSize = 200;

    /// <summary>Pieces are measured in a room: 5 °C.</summary>
    public const int ColdestMilliCelsius = 5_000;

    /// <summary>Pieces are measured in a room: 45 °C.</summary>
    public const int HottestMilliCelsius = 45_000;

    /// <summary>What people typed instead of millimetres, as the factor by which the reading then misses the size.</summary>
    private static readonly (decimal Factor, string Looks)[] Slips =
    [
        (1 / 25.4m, "looks like inches"), (25.4m, "looks like millimetres where inches were expected"),
        (1_000, "looks like µm"), (1_000_000, "looks like nm"), (0.001m, "looks like metres"),
        (0.1m, "has its decimal point one place too far left, or is in cm"), (10, "has its decimal point one place too far right"),
    ];

    /// <summary>Refusals: <c>READING_NOT_POSITIVE</c>, <c>READING_UNIT</c> (out by a known factor), <c>READING_FAR</c> (out by some other).</summary>
    /// <param name="nominal">The family's bore, above zero; null where none is known, and then any length above zero passes.</param>
    /// <param name="name">How the sentence calls the reading: <c>Reading 3</c>.</param>
    public static Refusal? Reading(Length reading, Length? nominal, string name = "The reading")
    {
        if (reading <= Length.Zero) return new Refusal("READING_NOT_POSITIVE", $"{name} is {MeasureText.Millimetres(reading)}, and no diameter is.", "Measure it again.");
        if (nominal is not { } bore || IsNear(reading.Nanometres, bore)) return null;
        var said = $"{name}, {MeasureText.Millimetres(reading)},";
        var expected = $"this family measures about {MeasureText.Millimetres(bore)}";
        foreach (var (factor, looks) in Slips)
            if (IsNear(reading.Nanometres / factor, bore))
                return new Refusal("READING_UNIT", $"{said} {looks}: {expected}.", "Write the unit with the number, such as 15.875 mm or 0.625 in.");
        return new Refusal("READING_FAR", $"{said} is far from the family's bore: {expected}.", "Check the number, its unit and the unit's family.");
    }

    /// <summary>Refusal <c>SPREAD_IMPOSSIBLE</c> where the readings cannot be of one piece.</summary>
    public static Refusal? Spread(Length smallest, Length largest) =>
        (Int128)(largest - smallest).Nanometres * ShareOfSize <= largest.Nanometres ? null : new Refusal("SPREAD_IMPOSSIBLE",
            $"The readings run from {MeasureText.Millimetres(smallest)} to {MeasureText.Millimetres(largest)}: one piece does not.",
            "Check for a mistyped digit, a unit left out, or a reading of another piece, and measure again.");

    /// <summary>Refusal <c>TEMPERATURE_RANGE</c> outside 5 to 45 °C; the sentence says so where the number would do in °F or K.</summary>
    public static Refusal? Temperature(int milliCelsius)
    {
        if (IsRoom(milliCelsius)) return null;
        var number = (milliCelsius / 1000m).ToString("0.###", CultureInfo.InvariantCulture);
        var hint = IsRoom((milliCelsius - 32_000) * 5L / 9) ? $"; {number} looks like °F" : IsRoom(milliCelsius - 273_150L) ? $"; {number} looks like kelvin" : "";
        return new Refusal("TEMPERATURE_RANGE", $"{number} °C is no temperature a piece is measured at{hint}.",
            "Let the piece and the gauge come to the temperature of the room, and give that in °C, from 5 to 45.");
    }

    private static bool IsRoom(long milliCelsius) => milliCelsius is >= ColdestMilliCelsius and <= HottestMilliCelsius;

    private static bool IsNear(decimal nanometres, Length nominal) => Math.Abs(nanometres - nominal.Nanometres) * ShareOfNominal <= nominal.Nanometres;
}
