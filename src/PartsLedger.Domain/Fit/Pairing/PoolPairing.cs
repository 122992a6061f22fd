namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>The pairs among the halves that are free, by the strongest method that the pool allows.</summary>
/// <param name="HousingOf">For each valve its housing or −1.</param>
/// <param name="Served">Pairs that each demand gets.</param>
/// <param name="LeastSumBound">A proved bound when the status is not optimal.</param>
internal sealed record PoolPairing(PairingStatus Status, int[] HousingOf, int[] Served, UInt128 LeastSumBound)
{
    // Beyond the size up to which the answer is always exact, a search that looks at more than this is stopped: some seconds.
    private const long MostLooks = 300_000_000;

    /// <param name="mostLooks">How much the search for the least deviation may look at beyond <paramref name="exactSide"/>.</param>
    public static PoolPairing Of(
        PairingPool pool, IReadOnlyList<ClassDemand> demands, CancellationToken cancellation, long mostLooks = MostLooks,
        int exactSide = PairingLimits.ExactSide)
    {
        if (SingleLine.Of(pool, demands) is { } line) return OnOneLine(pool, line, demands, cancellation);
        var (housingOf, served) = GreatestNumber.Find(pool, demands, cancellation);
        var leastPairs = new SortedDictionary<int, int>();
        for (var demand = 0; demand < demands.Count; demand++)
            leastPairs[demands[demand].Class] = leastPairs.GetValueOrDefault(demands[demand].Class) + served[demand];
        var small = Math.Max(pool.Housings.Count, pool.Valves.Count) <= exactSide;
        var greatest = housingOf.Count(housing => housing >= 0);
        var found = Matching.Greatest(pool, leastPairs, greatest, small ? long.MaxValue : mostLooks, cancellation);
        if (found.IsOptimal) return new(PairingStatus.Optimal, found.HousingOf, served, 0);
        // What was placed is good but not all: the sweep and the exchanges add what is missing.
        var completed = GreatestNumber.Complete(pool, found.HousingOf, cancellation);
        if (leastPairs.All(least => PairsOf(least.Key, completed) >= least.Value)) housingOf = completed;
        return new(PairingStatus.GreatestNumber, housingOf, served, found.LeastSum);

        int PairsOf(int of, int[] paired) => Enumerable.Range(0, paired.Length).Count(valve => paired[valve] >= 0 && pool.Valves.Class[valve] == of);
    }

    private static PoolPairing OnOneLine(PairingPool pool, SingleLine line, IReadOnlyList<ClassDemand> demands, CancellationToken cancellation)
    {
        var housingOf = line.Pair(cancellation);
        // With demands all valves are of one class: every pair serves it.
        var left = demands.Count == 0 ? 0 : housingOf.Count(housing => housing >= 0);
        var served = new int[demands.Count];
        for (var demand = 0; demand < served.Length; demand++)
        {
            if (pool.Valves.Count == 0 || demands[demand].Class != pool.Valves.Class[0]) continue;
            served[demand] = Math.Min(left, demands[demand].Pairs);
            left -= served[demand];
        }
        return new(PairingStatus.Optimal, housingOf, served, 0);
    }
}
