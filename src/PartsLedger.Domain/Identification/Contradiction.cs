namespace PartsLedger.Domain.Identification;

/// <summary>One observation of several that leave nothing.</summary>
/// <param name="FitsNone">No candidate at all agrees with it: by itself it rules out everything.</param>
/// <param name="LeftWithout">The variants that would remain if it alone were dropped; none when others stand against everything too.</param>
public sealed record DoubtfulObservation(Observation Seen, bool FitsNone, IReadOnlyList<string> LeftWithout);

/// <summary>Observations that may be wrong together, and the variants that would remain without them.</summary>
public sealed record Retraction(IReadOnlyList<Observation> Dropped, IReadOnlyList<string> Left);

/// <summary>Why nothing fits what was seen, and which observations to look at again.</summary>
/// <param name="Observations">Every observation, in the order given.</param>
/// <param name="Smallest">
/// Every set of fewest observations without which something remains, in the order in which its observations were given. Sets of one are
/// the observations each of which alone rules out what the others leave.
/// </param>
public sealed record Contradiction(IReadOnlyList<DoubtfulObservation> Observations, IReadOnlyList<Retraction> Smallest)
{
    /// <summary>Which observation rules out everything, or which few do, and what would remain.</summary>
    public string Sentence
    {
        get
        {
            if (Observations.Count == 1) return $"Nothing fits {Observations[0].Seen}.";
            var ways = Smallest.Select(way =>
                $"without {string.Join(" and ", way.Dropped)} there would remain {Named(way.Left)}");
            return $"Nothing fits all {Observations.Count} observations. Look again: {string.Join("; ", ways)}.";
        }
    }

    private const int MostNamed = 5;

    private static string Named(IReadOnlyList<string> variants) => variants.Count <= MostNamed
        ? string.Join(", ", variants)
        : $"{string.Join(", ", variants.Take(MostNamed - 1))} and {variants.Count - MostNamed + 1} more";

    /// <remarks>
    /// Dropping a set leaves exactly the candidates that disagree with nothing outside it, so the smallest sets are the smallest sets of
    /// observations that any one candidate disagrees with: exact for any number of observations, without a search.
    /// </remarks>
    internal static Contradiction Explain(IReadOnlyList<Candidate> candidates, IReadOnlyList<Observation> seen)
    {
        var against = candidates.Select(candidate => (candidate.Variant,
            Seen: Enumerable.Range(0, seen.Count).Where(at => !candidate.AgreesWith(seen[at])).ToArray())).ToList();
        var fewest = against.Min(entry => entry.Seen.Length);
        var smallest = new List<int[]>();
        foreach (var (_, set) in against)
            if (set.Length == fewest && !smallest.Any(known => known.AsSpan().SequenceEqual(set))) smallest.Add(set);
        smallest.Sort((left, right) => left.AsSpan().SequenceCompareTo(right));

        return new(
            [.. seen.Select((observation, at) => new DoubtfulObservation(
                observation, against.All(entry => entry.Seen.Contains(at)), LeftWithout([at])))],
            [.. smallest.Select(set => new Retraction([.. set.Select(at => seen[at])], LeftWithout(set)))]);

        List<string> LeftWithout(int[] dropped) =>
            [.. against.Where(entry => entry.Seen.All(dropped.Contains)).Select(entry => entry.Variant)];
    }
}
