using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Identification;

/// <summary>The clues of a question, and the variants that come into question at all.</summary>
/// <param name="Universe">
/// What the number or the machine points to; every variant where neither is given or neither points to any, so that what else is known can
/// say what would remain without them.
/// </param>
public sealed record CluesRead(IReadOnlyList<Clue> Clues, IReadOnlyList<Pump> Universe);

/// <summary>Reads everything that is known of a pump besides what was seen of it.</summary>
public sealed class ClueReader(NumberClue numbers, MachineClue machines, Pumps pumps)
{
    public async Task<Outcome<CluesRead>> Read(Identify.Query query, CancellationToken cancellation)
    {
        var pointing = new List<Clue>();
        if (query.Number is { } number)
        {
            var clue = await numbers.Read(number, cancellation);
            if (!clue.Succeeded) return clue.Refusal;
            pointing.Add(clue.Result);
        }
        if (new[] { query.Make, query.Model, query.Option, query.Year }.Any(word => !string.IsNullOrWhiteSpace(word)))
        {
            var clue = await machines.Read(query.Make, query.Model, query.Option, query.Year, cancellation);
            if (!clue.Succeeded) return clue.Refusal;
            pointing.Add(clue.Result);
        }
        if (query.Machine is { } said)
        {
            var clue = await machines.Read(said, cancellation);
            if (!clue.Succeeded) return clue.Refusal;
            pointing.Add(clue.Result with { Name = pointing.Exists(other => other.Name == "machine") ? "machine in words" : "machine" });
        }
        BuildDate? built = null;
        if (query.Built is { } written)
        {
            var date = BuildDate.Read(written);
            if (!date.Succeeded) return date.Refusal;
            built = date.Result;
        }
        if (query.Serial is { } given && !given.Any(char.IsLetterOrDigit))
            return new Refusal("SERIAL_EMPTY", "There is no letter and no digit in the serial number.", "Type it as it stands on the pump.");

        var ids = pointing.SelectMany(clue => clue.Fits.Keys).ToHashSet();
        // Nothing is pointed to and nothing else is known: then nothing comes into question.
        var others = built is not null || query.Serial is not null || query.Seen is { Count: > 0 };
        var universe = ids.Count == 0 && pointing.Count > 0 && !others ? [] : await pumps.Read(ids.Count == 0 ? null : ids, cancellation);
        var clues = new List<Clue>(pointing);
        if (query.Serial is { } serial)
            clues.Add(Made("serial", serial.Trim(), universe, pump => pump.Made.HoldsSerial(serial),
                pump => $"serial within {Ends(pump.Made.SerialFrom, pump.Made.SerialTo)}", "its serials are not stated"));
        if (built is { } days)
            clues.Add(Made("date built", query.Built!.Trim(), universe, pump => pump.Made.HoldsBuilt(days.First, days.Last),
                pump => $"built {Ends(Day(pump.Made.BuiltFrom), Day(pump.Made.BuiltTo))}", "its dates of production are not stated"));
        return new CluesRead(clues, universe);
    }

    /// <summary>A clue about how the pump was made: a variant of which that is not stated is not ruled out.</summary>
    private static Clue Made(
        string name, string value, IReadOnlyList<Pump> universe, Func<Pump, bool?> holds, Func<Pump, string> within, string notStated)
    {
        var fits = new Dictionary<int, string>();
        foreach (var pump in universe)
            if (holds(pump) is not false) fits.Add(pump.Id, holds(pump) is null ? notStated : within(pump));
        return new(name, value, fits, fits.Count == 0 && universe.Count > 0 ? $"No variant in question was made with {name} {value}." : null);
    }

    private static string Ends(string? from, string? to) => (from, to) switch
    {
        (null, _) => $"up to {to}",
        (_, null) => $"from {from} on",
        _ => $"{from} to {to}",
    };

    private static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
}
