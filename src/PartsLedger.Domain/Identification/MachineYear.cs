using System.Globalization;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Identification;

/// <summary>The year a machine was built: four digits, from 1900 to two years after the current one (next year's models are sold early).</summary>
public static class MachineYear
{
    public const int Earliest = 1900;
    private const int YearsAhead = 2;

    /// <summary>The last year there can be, in a given current year.</summary>
    public static int Latest(int currentYear) => currentYear + YearsAhead;

    /// <returns>The year, or <c>NO_SUCH_YEAR</c>.</returns>
    public static Outcome<int> Read(string? text, int currentYear)
    {
        var trimmed = (text ?? "").Trim();
        if (TryRead(trimmed, currentYear, out var year)) return year;
        return new Refusal("NO_SUCH_YEAR", trimmed.Length is 0 or > 20 ? "That is not a year." : $"'{trimmed}' is not a year.", Advice(currentYear));
    }

    internal static bool TryRead(string word, int currentYear, out int year)
    {
        year = 0;
        return word.Length == 4 && word.All(char.IsAsciiDigit)
            && (year = int.Parse(word, CultureInfo.InvariantCulture)) >= Earliest && year <= Latest(currentYear);
    }

    internal static string Advice(int currentYear) => string.Create(CultureInfo.InvariantCulture,
        $"A year has four digits, from {Earliest} to {Latest(currentYear)}.");
}
