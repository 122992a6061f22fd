namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Pairs housings with valves: the greatest number of pairs, then the least sum of squared deviations from the target clearance.
/// Whole numbers in, whole numbers out; the same problem always gets the same answer.
/// </summary>
/// <remarks>
/// Pairs that came in together and still fit come first, then the reserves are chosen, then the jobs to be served first are served; the
/// number and the deviation are the best that is left after that. Of several proposals with the same number and sum one is given,
/// which depends only on the order of the lists.
/// </remarks>
public static class PairingSolver
{
    /// <exception cref="ArgumentException">A number or an index is out of its range.</exception>
    /// <exception cref="OperationCanceledException">Cancelled before the answer was proved.</exception>
    public static PairingAnswer Solve(PairingProblem problem, CancellationToken cancellation = default)
    {
        PairingCheck.Problem(problem);
        cancellation.ThrowIfCancellationRequested();
        var kept = new KeptPairs(problem);
        var housingClass = new int[problem.Housings.Count];
        for (var housing = 0; housing < housingClass.Length; housing++) housingClass[housing] = problem.Housings[housing].Class;
        var reserved = ReservedHousings.Choose(problem, housingClass, kept.HousingTaken, kept.ValveTaken, cancellation);
        var pool = new PairingPool(problem, housingClass, kept.HousingTaken, kept.ValveTaken);
        var demands = kept.StillWanted(problem.ServeFirst);
        var free = PoolPairing.Of(pool, demands, cancellation);
        return Answer(problem, pool, kept, free, reserved);
    }

    private static PairingAnswer Answer(
        PairingProblem problem, PairingPool pool, KeptPairs kept, PoolPairing free, List<(int, int)> reserved)
    {
        var valveOf = new int[problem.Housings.Count];
        Array.Fill(valveOf, -1);
        for (var valve = 0; valve < free.HousingOf.Length; valve++)
            if (free.HousingOf[valve] is >= 0 and var housing) valveOf[pool.Housings.Original[housing]] = pool.Valves.Original[valve];
        foreach (var (housing, valve) in kept.Pairs) valveOf[housing] = valve;

        var pairs = new List<ProposedPair>(Math.Min(problem.Housings.Count, problem.Valves.Count));
        UInt128 sum = 0, ofKept = 0;
        for (var housing = 0; housing < valveOf.Length; housing++)
        {
            if (valveOf[housing] is not (>= 0 and var valve)) continue;
            var clearance = problem.Housings[housing].Size - problem.Valves[valve].Size;
            var deviation = clearance - problem.Target;
            var together = kept.HousingTaken[housing];
            pairs.Add(new(housing, valve, clearance, deviation, together));
            var size = (UInt128)(ulong)Math.Abs(deviation);
            sum += size * size;
            if (together) ofKept += size * size;
        }
        var bound = free.Status == PairingStatus.Optimal ? sum : ofKept + free.LeastSumBound;
        var servedByKept = kept.Served(problem.ServeFirst);
        return new(free.Status, pairs, sum, bound, [.. free.Served.Zip(servedByKept, (pairs, together) => pairs + together)], reserved);
    }
}
