using System.Globalization;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Identification;

/// <summary>When a pump was built, as exactly as somebody knows it: the first and the last day it may have been.</summary>
public readonly record struct BuildDate(DateOnly First, DateOnly Last)
{
    private const int Earliest = 1850, Latest = 2200;

    /// <summary>Reads <c>2004-05-17</c>, <c>2004-05</c> (the whole month) or <c>2004</c> (the whole year).</summary>
    /// <returns>The days, or <c>NO_SUCH_DATE</c>.</returns>
    public static Outcome<BuildDate> Read(string? text)
    {
        var written = (text ?? "").Trim();
        if (DateOnly.TryParseExact(written, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)) return Within(day, day);
        if (DateOnly.TryParseExact(written, "yyyy-MM", CultureInfo.InvariantCulture, DateTimeStyles.None, out var month))
            return Within(month, month.AddMonths(1).AddDays(-1));
        if (DateOnly.TryParseExact(written, "yyyy", CultureInfo.InvariantCulture, DateTimeStyles.None, out var year))
            return Within(year, year.AddYears(1).AddDays(-1));
        return NoSuchDate(written);

        Outcome<BuildDate> Within(DateOnly first, DateOnly last) =>
            first.Year is >= Earliest and <= Latest ? new BuildDate(first, last) : NoSuchDate(written);
    }

    private static Refusal NoSuchDate(string written) => new("NO_SUCH_DATE",
        written.Length is 0 or > 20 ? "That is not a date of production." : $"'{written}' is not a date of production.",
        "Write it as 2004-05-17, or 2004-05 or 2004 where no more is known.");
}
