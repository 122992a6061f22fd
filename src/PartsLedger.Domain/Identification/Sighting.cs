namespace PartsLedger.Domain.Identification;

/// <summary>What everything seen so far leaves of the candidates.</summary>
/// <param name="Left">The candidates that nothing rules out, in the order given.</param>
/// <param name="Contradiction">Set when there were candidates and none is left.</param>
public sealed record Sighting(IReadOnlyList<Candidate> Left, Contradiction? Contradiction)
{
    /// <summary>Keeps what agrees with every observation. A candidate without a recorded value is never ruled out by that feature.</summary>
    public static Sighting Of(IReadOnlyList<Candidate> candidates, IReadOnlyList<Observation> seen)
    {
        ArgumentNullException.ThrowIfNull(candidates);
        ArgumentNullException.ThrowIfNull(seen);
        var left = candidates.Where(candidate => seen.All(candidate.AgreesWith)).ToList();
        return new(left, left.Count > 0 || candidates.Count == 0 ? null : Contradiction.Explain(candidates, seen));
    }
}
