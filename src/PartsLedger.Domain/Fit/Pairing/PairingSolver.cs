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
        var kept = new KeptPairs(problem);
        int[] housingClass = [.. problem.Housings.Select(half => half.Class)];
        var reserved = ReservedHousings.Choose(problem, housingClass, kept.HousingTaken, kept.ValveTaken, cancellation);
        var pool = new PairingPool(problem, housingClass, kept.HousingTaken, kept.ValveTaken);
        var demands = kept.StillWanted(problem.ServeFirst);
        var (housingOf, served) = GreatestNumber.Find(pool, demands, cancellation);

        var exact = Math.Max(pool.Housings.Count, pool.Valves.Count) <= PairingLimits.ExactSide;
        if (exact)
        {
            var leastPairs = new SortedDictionary<int, int>();
            for (var demand = 0; demand < demands.Count; demand++)
                leastPairs[demands[demand].Class] = leastPairs.GetValueOrDefault(demands[demand].Class) + served[demand];
            housingOf = Matching.Greatest(pool, leastPairs, cancellation);
        }
        return Answer(problem, pool, kept, housingOf, exact, [.. served.Select((pairs, demand) => pairs + kept.Served(problem.ServeFirst)[demand])], reserved);
    }

    private static PairingAnswer Answer(
        PairingProblem problem, PairingPool pool, KeptPairs kept, int[] housingOf, bool exact, int[] served, List<(int, int)> reserved)
    {
        var pairs = new List<ProposedPair>(kept.Pairs);
        for (var valve = 0; valve < housingOf.Length; valve++)
            if (housingOf[valve] >= 0)
                pairs.Add(KeptPairs.Propose(problem, pool.Housings.Original[housingOf[valve]], pool.Valves.Original[valve], cameTogether: false));
        pairs.Sort((one, other) => one.Housing.CompareTo(other.Housing));
        UInt128 sum = 0, bound = 0;
        foreach (var pair in pairs) sum += Squared(pair);
        if (!exact)
            foreach (var pair in kept.Pairs) bound += Squared(pair);
        return new(exact ? PairingStatus.Optimal : PairingStatus.GreatestNumber, pairs, sum, exact ? sum : bound, served, reserved);
    }

    private static UInt128 Squared(ProposedPair pair)
    {
        var deviation = (UInt128)Math.Abs(pair.Deviation);
        return deviation * deviation;
    }
}
