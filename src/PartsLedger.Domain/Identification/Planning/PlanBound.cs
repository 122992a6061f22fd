namespace PartsLedger.Domain.Identification.Planning;

/// <summary>
/// Seconds that no plan goes below: the equation of the least cost, followed for a few questions, with a lower bound in place of the rest
/// (the cheapest question that tells anything apart, or what information theory asks).
/// </summary>
internal sealed class PlanBound(PlanProblem problem, PlanInformation information, CancellationToken cancellation)
{
    // Enough for two questions ahead in a shop's catalogue; beyond it one question ahead must do.
    private const long MostVisits = 5_000_000;

    public double Of(CandidateSet set)
    {
        double branches = problem.Features.Sum(feature => (long)feature.Having.Length);
        var oneAhead = Ahead(set, 1);
        return branches * branches * problem.Features.Length * problem.Groups.Length > MostVisits ? oneAhead : Math.Max(oneAhead, Ahead(set, 2));
    }

    private double Ahead(CandidateSet set, int questions)
    {
        if (problem.IsDone(set)) return 0;
        cancellation.ThrowIfCancellationRequested();
        double? least = null;
        foreach (var feature in problem.Features)
        {
            if (problem.Split(set, feature) is not { } branches) continue;
            double seconds = feature.Feature.Seconds;
            if (questions > 0)
                foreach (var branch in branches) seconds += branch.Share * Ahead(branch.Left, questions - 1);
            least = least is { } known ? Math.Min(known, seconds) : seconds;
        }
        return least is { } bound ? Math.Max(bound, information.LeastSeconds(set)) : 0;
    }
}
