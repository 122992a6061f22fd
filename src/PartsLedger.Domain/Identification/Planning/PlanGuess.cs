namespace PartsLedger.Domain.Identification.Planning;

/// <summary>
/// A good plan where the best one is out of reach: the question that tells most bits per second, chosen among the few best by looking at
/// what would be left; small sets on the way are solved exactly. Its cost is exact for the plan it describes, or too high, never too low.
/// </summary>
internal sealed class PlanGuess(
    PlanProblem problem, PlanInformation information, PlanSearch search, CancellationToken cancellation, int mostToSolve = PlanGuess.MostToSolve)
{
    // The first question is tried in earnest with so many features; later ones are weighed by an estimate.
    private const int Tried = 4;

    // Looking ahead and exact search pay off for sets of at most so many groups.
    private const int MostToLookAhead = 64, MostToSolve = 12;

    private const long MostVisits = 4_000_000;
    private const double LeastRateSeconds = 1e-3;

    private readonly Dictionary<CandidateSet, PlanStep> _known = [];
    private long _searchBudget;

    /// <param name="set">Neither done nor beyond telling apart.</param>
    /// <param name="searchBudget">Branches the exact search may take for small sets.</param>
    public PlanStep First(CandidateSet set, long searchBudget)
    {
        _searchBudget = searchBudget;
        var step = PlanStep.End;
        foreach (var (feature, branches, _) in Best(set))
        {
            var other = new PlanStep(feature, Cost(feature, branches));
            if (step.IsWorseThan(other, problem.Features)) step = other;
        }
        return step;
    }

    private PlanStep Step(CandidateSet set)
    {
        if (problem.IsDone(set)) return PlanStep.End;
        if (_known.TryGetValue(set, out var step)) return step;
        cancellation.ThrowIfCancellationRequested();
        if (set.Count <= mostToSolve && search.Solve(set, _searchBudget) is { } exact) step = exact;
        else if (information.Visited > MostVisits) return new(null, Everything(set));
        else
        {
            var best = Best(set);
            if (best.Count == 0) return PlanStep.End;
            var (feature, branches, _) = set.Count > MostToLookAhead ? best[0] : best.MinBy(entry => Estimate(entry.Feature, entry.Branches));
            step = new(feature, Cost(feature, branches));
        }
        _known.Add(set, step);
        return step;
    }

    private PlanCost Cost(int feature, PlanBranch[] branches)
    {
        var cost = PlanCost.ToAsk(problem.Features[feature].Feature);
        foreach (var branch in branches) cost = cost.Plus(branch.Share, Step(branch.Left).Cost);
        return cost;
    }

    /// <summary>The questions that tell most bits per second, best first.</summary>
    private List<(int Feature, PlanBranch[] Branches, double Rate)> Best(CandidateSet set)
    {
        var bits = information.Bits(set);
        var all = new List<(int Feature, PlanBranch[] Branches, double Rate)>();
        for (var feature = 0; feature < problem.Features.Length; feature++)
        {
            if (problem.Split(set, problem.Features[feature]) is not { } branches) continue;
            var told = bits - branches.Sum(branch => branch.Share * information.Bits(branch.Left));
            all.Add((feature, branches, told / Math.Max(problem.Features[feature].Feature.Seconds, LeastRateSeconds)));
        }
        return [.. all.OrderByDescending(entry => entry.Rate).ThenBy(entry => entry.Feature).Take(Tried)];
    }

    /// <summary>The question's seconds and, for what each answer leaves, its bits at the best rate there.</summary>
    private double Estimate(int feature, PlanBranch[] branches)
    {
        double seconds = problem.Features[feature].Feature.Seconds;
        foreach (var branch in branches)
        {
            if (problem.IsDone(branch.Left) || Best(branch.Left) is not [var best, ..]) continue;
            seconds += branch.Share * Math.Max(problem.Features[best.Feature].Feature.Seconds,
                best.Rate > 0 ? information.Bits(branch.Left) / best.Rate : 0);
        }
        return seconds;
    }

    /// <summary>Asking everything that tells these apart: as dear as it can become.</summary>
    private PlanCost Everything(CandidateSet set) =>
        problem.Features.Where(feature => feature.Having.Count(set.Intersects) > 1)
            .Aggregate(default(PlanCost), (sum, feature) => sum.Plus(1, PlanCost.ToAsk(feature.Feature)));
}
