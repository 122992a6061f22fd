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
        ArgumentNullException.ThrowIfNull(problem);
        var question = new PairingQuestion(problem);
        cancellation.ThrowIfCancellationRequested();
        var kept = new KeptPairs(question);
        var reserved = ReservedHousings.Choose(question, kept, cancellation);
        var pool = new PairingPool(question, kept.HousingTaken, kept.ValveTaken);
        var demands = kept.StillWanted(problem.ServeFirst);
        var free = PoolPairing.Of(pool, demands, cancellation);
        return Answer(question, pool, kept, free, reserved);
    }

    private static PairingAnswer Answer(
        PairingQuestion question, PairingPool pool, KeptPairs kept, PoolPairing free, List<(int, int)> reserved)
    {
        var (housings, valves, target) = (question.Housings, question.Valves, question.Problem.Target);
        var valveOf = new int[housings.Length];
        Array.Fill(valveOf, -1);
        for (var valve = 0; valve < free.HousingOf.Length; valve++)
            if (free.HousingOf[valve] is >= 0 and var housing) valveOf[pool.Housings.Original[housing]] = pool.Valves.Original[valve];
        foreach (var (housing, valve) in kept.Pairs) valveOf[housing] = valve;

        var pairs = new ProposedPair[valveOf.Count(valve => valve >= 0)];
        UInt128 sum = 0, ofKept = 0;
        for (int housing = 0, at = 0; housing < valveOf.Length; housing++)
        {
            if (valveOf[housing] is not (>= 0 and var valve)) continue;
            var clearance = housings[housing].Size - valves[valve].Size;
            var pair = new ProposedPair(housing, valve, clearance, clearance - target, kept.HousingTaken[housing]);
            pairs[at++] = pair;
            var squared = Math.BigMul((ulong)Math.Abs(pair.Deviation), (ulong)Math.Abs(pair.Deviation));
            sum += squared;
            if (pair.CameTogether) ofKept += squared;
        }
        var bound = free.Status == PairingStatus.Optimal ? sum : ofKept + free.LeastSumBound;
        var byKept = kept.Served(question.Problem.ServeFirst);
        return new(free.Status, pairs, sum, bound, [.. free.Served.Zip(byKept, (pairs, together) => pairs + together)], reserved);
    }
}
