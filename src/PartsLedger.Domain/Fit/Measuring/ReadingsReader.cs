using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>Reads the readings of one unit as written in a cell: <c>15.8761;15.8764;0.625in</c>.</summary>
public static class ReadingsReader
{
    /// <summary>
    /// Refusals name the reading by its place, from 1: <c>NO_READINGS</c>, <c>TOO_MANY_READINGS</c>, <c>READING_UNREADABLE</c>, and those of
    /// <see cref="Plausible.Reading"/>. A single semicolon after the last reading is allowed; an empty place elsewhere is not.
    /// </summary>
    /// <param name="nominal">The family's bore, by which a wrong unit is found.</param>
    /// <param name="unit">The unit of a number that has none; millimetres when null.</param>
    public static Outcome<IReadOnlyList<Length>> Read(string? text, Length? nominal, MeasureUnit? unit = null)
    {
        var written = (text ?? "").Trim();
        if (written.EndsWith(';')) written = written[..^1];
        if (string.IsNullOrWhiteSpace(written)) return new Refusal("NO_READINGS", "There is no reading.", "Write one or more, with ; between them.");

        var pieces = written.Split(';');
        if (pieces.Length > UnitSize.MostReadings)
            return new Refusal("TOO_MANY_READINGS", $"There are {pieces.Length} readings of one piece; {UnitSize.MostReadings} are the most.", "Check the cell.");
        var lengths = new Length[pieces.Length];
        for (var at = 0; at < pieces.Length; at++)
        {
            var name = pieces.Length == 1 ? "The reading" : $"Reading {at + 1} of {pieces.Length}";
            if (!LengthUnits.TryRead(pieces[at], unit ?? LengthUnits.Millimetre, out lengths[at], out var fault)) return Unreadable(name, pieces[at].Trim(), fault);
            if (Plausible.Reading(lengths[at], nominal, name) is { } odd) return odd;
        }
        return lengths;
    }

    private static Refusal Unreadable(string name, string written, MeasureFault fault)
    {
        var brief = written.Length > 30 ? $"{written[..30]}…" : written;
        var sentence = fault switch
        {
            _ when written.Length == 0 => $"{name} is empty.",
            MeasureFault.UnknownUnit => $"{name}, '{brief}', has a unit that is not known.",
            MeasureFault.TooFine => $"{name}, '{brief}', is finer than a nanometre.",
            MeasureFault.TooLarge => $"{name}, '{brief}', is too large for a length.",
            _ => $"{name}, '{brief}', is no length.",
        };
        return new Refusal("READING_UNREADABLE", sentence, "Write numbers with a decimal point, such as 15.8761, and ; between them; units nm, um, mm or in.");
    }
}
