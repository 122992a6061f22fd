namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Which bores to enlarge, and by how much, so that halves left over make the most pairs, then at the least cost.</summary>
/// <remarks>
/// A bore's guard is taken to be the same after honing. Pairs already proposed stay as they are. Exact: pairs are added along cheapest
/// chains of exchanges, so after each the cost is the least for that number of pairs (a min-cost flow grows this way), and the costs of
/// the chains never fall.
/// </remarks>
public static class HoningPlanner
{
    /// <param name="mostPairs">The plan stops at so many pairs; null for all that can be gained. The list of least costs ends there too.</param>
    /// <exception cref="ArgumentException">A number is out of its range, or there are too many halves.</exception>
    /// <exception cref="OperationCanceledException">Cancelled before the plan was complete.</exception>
    public static HoningPlan Plan(HoningProblem problem, int? mostPairs = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        Check(problem);
        var work = HoningWork.Of(problem);
        var (housingOf, leastCost) = CheapestPairs.Find(work.Start, work.Housings, work.Costs, problem.Housings.Count, mostPairs ?? int.MaxValue, cancellation);
        var pairs = new List<HonedPair>();
        for (var valve = 0; valve < housingOf.Length; valve++)
        {
            if (housingOf[valve] is not (>= 0 and var housing)) continue;
            var step = problem.Steps[work.CheapestStep(housing, valve)!.Value];
            var clearance = problem.Housings[housing].Size + step.Enlarges - problem.Valves[valve].Size;
            pairs.Add(new(housing, valve, step, clearance, clearance - problem.Target));
        }
        pairs.Sort((one, other) => one.Housing.CompareTo(other.Housing));
        return new(pairs, leastCost);
    }

    private static void Check(HoningProblem problem)
    {
        PairingCheck.Window(problem.Minimum, problem.Target, problem.Maximum);
        PairingCheck.Halves([.. problem.Housings], "housing");
        PairingCheck.Halves([.. problem.Valves], "valve");
        PairingCheck.Require(
            Math.Max(problem.Housings.Count, problem.Valves.Count) <= PairingLimits.ExactSide,
            $"Honing is planned for up to {PairingLimits.ExactSide} halves a side.");
        foreach (var step in problem.Steps)
        {
            PairingCheck.Require(step.Enlarges is > 0 and <= PairingLimits.Length, $"A honing step enlarges the bore by {step.Enlarges} nm.");
            PairingCheck.Require(step.Cost is >= 0 and <= HoningStep.GreatestCost, $"A honing step costs {step.Cost}.");
        }
    }
}
