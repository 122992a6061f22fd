namespace PartsLedger.Domain.Identification.Planning;

/// <summary>
/// The plan of least cost by dynamic programming over the sets of candidates that can be reached, each solved once. What has been asked
/// does not matter: a feature that was answered leaves candidates with one value or none, which it cannot tell apart again.
/// </summary>
internal sealed class PlanSearch(PlanProblem problem, CancellationToken cancellation)
{
    private const int BranchesBetweenLooks = 1 << 12;

    private readonly Dictionary<CandidateSet, PlanStep> _known = [];
    private long _branches;

    /// <summary>The best step for a set; null when it would take more than <paramref name="budget"/> branches, counted over all calls.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public PlanStep? Solve(CandidateSet set, long budget)
    {
        if (problem.IsDone(set)) return PlanStep.End;
        if (_known.TryGetValue(set, out var step)) return step;
        step = PlanStep.End;
        for (var feature = 0; feature < problem.Features.Length; feature++)
        {
            if (problem.Split(set, problem.Features[feature]) is not { } branches) continue;
            var cost = PlanCost.ToAsk(problem.Features[feature].Feature);
            foreach (var branch in branches)
            {
                if (++_branches > budget) return null;
                if (_branches % BranchesBetweenLooks == 0) cancellation.ThrowIfCancellationRequested();
                if (Solve(branch.Left, budget) is not { } rest) return null;
                cost = cost.Plus(branch.Share, rest.Cost);
            }
            var other = new PlanStep(feature, cost);
            if (step.IsWorseThan(other, problem.Features)) step = other;
        }
        _known.Add(set, step);
        return step;
    }
}
