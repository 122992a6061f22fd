using System.Globalization;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Kits;

/// <summary>The words of a kit list that the terminal and the workbook share.</summary>
public static class KitPhrases
{
    /// <summary>What comes before everything a kit list says.</summary>
    public const string MakerComesFirst =
        "The maker's service information, local codes and licensed practice come first. This list does not replace them.";

    /// <summary>What makes a unit cost of zero different from a gift.</summary>
    public const string NoCostKnown = "A unit cost of 0.00 means that no cost is known; the total leaves it out.";

    /// <summary>Name and sign of a caution, so that neither colour nor sign alone carries it.</summary>
    public static string Of(Severity severity) => severity switch
    {
        Severity.Warning => "▲ WARNING",
        Severity.Caution => "■ CAUTION",
        Severity.Note => "○ NOTE",
        _ => throw new ArgumentOutOfRangeException(nameof(severity), severity, "No word for this severity."),
    };

    /// <summary>What the scope means, in a word and what it renews.</summary>
    public static string Of(JobScope scope) => scope switch
    {
        JobScope.Reseal => "Reseal",
        JobScope.Rotating => "Rotating group",
        JobScope.Valve => "Valve",
        JobScope.Full => "Full rebuild",
        _ => throw new ArgumentOutOfRangeException(nameof(scope), scope, "No word for this scope."),
    };

    public static string Of(KitPreference prefer) => prefer switch
    {
        KitPreference.Cost => "lowest cost first",
        KitPreference.Stock => "fewest pieces to order first",
        _ => throw new ArgumentOutOfRangeException(nameof(prefer), prefer, "No word for this preference."),
    };

    /// <summary>Whether the list covers the job, in one sentence.</summary>
    public static string Verdict(KitAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        return answer.Complete
            ? "COMPLETE: every need of the job is covered."
            : $"NOT COMPLETE: {Count(answer.Uncovered.Count, "need is", "needs are")} not covered, see the box NOT COVERED.";
    }

    /// <summary>Gravest first; within one severity as the answer has them.</summary>
    public static IEnumerable<KitCaution> GravestFirst(IEnumerable<KitCaution> cautions) =>
        cautions.OrderByDescending(caution => caution.Severity);

    /// <summary>Ascending positions as people write them: <c>2, 4–7, 9</c>.</summary>
    public static string Positions(IReadOnlyList<int> positions)
    {
        ArgumentNullException.ThrowIfNull(positions);
        var runs = new List<string>();
        for (var first = 0; first < positions.Count;)
        {
            var last = first;
            while (last + 1 < positions.Count && positions[last + 1] == positions[last] + 1) last++;
            if (last - first >= 2) runs.Add($"{positions[first]}–{positions[last]}");
            else runs.AddRange(positions.Skip(first).Take(last - first + 1).Select(position => $"{position}"));
            first = last + 1;
        }
        return string.Join(", ", runs);
    }

    /// <summary>The limits of a check as people write them: <c>4.66 to 4.86</c>, <c>at least 6</c>, or nothing.</summary>
    public static string Limits(KitCheck check)
    {
        ArgumentNullException.ThrowIfNull(check);
        return (check.Low, check.High) switch
        {
            (null, null) => "",
            ({ } low, null) => $"at least {Number(low)}",
            (null, { } high) => $"at most {Number(high)}",
            ({ } low, { } high) => low == high ? $"exactly {Number(low)}" : $"{Number(low)} to {Number(high)}",
        };
    }

    public static string Count(long count, string one, string many) => $"{count} {(count == 1 ? one : many)}";

    private static string Number(decimal number) => number.ToString("0.############################", CultureInfo.InvariantCulture);
}
