namespace PartsLedger.Domain.Jobs;

/// <summary>
/// A measured value in the unit its check asks for. Lengths, pressures, flows and torques are turned into each other exactly as far as a
/// decimal goes; temperatures with their zero; any other unit must be written as the check writes it.
/// </summary>
public static class CheckMeasure
{
    // One unit in the first one of its row. An inch is 25.4 mm, a US gallon 3.785411784 L, a pound-force foot 1.3558179483314004 N m, a psi
    // 6.894757293168361 kPa: exact or by definition to the digits given.
    private static readonly Dictionary<string, decimal>[] Kinds =
    [
        new() { ["mm"] = 1, ["um"] = 0.001m, ["µm"] = 0.001m, ["nm"] = 0.000001m, ["in"] = 25.4m, ["\""] = 25.4m },
        new() { ["kpa"] = 1, ["bar"] = 100, ["mpa"] = 1000, ["psi"] = 6.894757293168361m },
        new() { ["l/min"] = 1, ["lpm"] = 1, ["ml/min"] = 0.001m, ["gpm"] = 3.785411784m },
        new() { ["n m"] = 1, ["n·m"] = 1, ["lbf ft"] = 1.3558179483314004m, ["ft lbf"] = 1.3558179483314004m },
    ];

    /// <summary>The value in <paramref name="wanted"/>; null when the two units are not of one kind.</summary>
    public static decimal? Convert(decimal value, string given, string wanted)
    {
        var (from, to) = (Key(given), Key(wanted));
        if (from == to) return value;
        if (Celsius(from) is { } fromFahrenheit && Celsius(to) is { } toFahrenheit)
            return fromFahrenheit == toFahrenheit ? value : fromFahrenheit ? (value - 32) * 5 / 9 : (value * 9 / 5) + 32;
        foreach (var kind in Kinds)
            if (kind.TryGetValue(from, out var one) && kind.TryGetValue(to, out var other)) return value * one / other;
        return null;
    }

    private static bool? Celsius(string unit) => unit switch { "°c" or "c" => false, "°f" or "f" => true, _ => null };

    private static string Key(string unit) => string.Join(' ', unit.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))
        .Replace('μ', 'µ').ToLowerInvariant();
}
