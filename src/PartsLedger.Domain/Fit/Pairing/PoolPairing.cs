namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>The pairs among the halves that are free, by the strongest method that the pool allows.</summary>
/// <param name="HousingOf">For each valve its housing or −1.</param>
/// <param name="Served">Pairs that each demand gets.</param>
/// <param name="LeastSumBound">A proved bound when the status is not optimal.</param>
internal sealed record PoolPairing(PairingStatus Status, int[] HousingOf, int[] Served, UInt128 LeastSumBound)
{
    public static PoolPairing Of(PairingPool pool, IReadOnlyList<ClassDemand> demands, CancellationToken cancellation)
    {
        if (SingleLine.Of(pool, demands) is { } line) return OnOneLine(pool, line, demands, cancellation);
        var (housingOf, served) = GreatestNumber.Find(pool, demands, cancellation);
        if (Math.Max(pool.Housings.Count, pool.Valves.Count) > PairingLimits.ExactSide)
            return new(PairingStatus.GreatestNumber, housingOf, served, 0);
        var leastPairs = new SortedDictionary<int, int>();
        for (var demand = 0; demand < demands.Count; demand++)
            leastPairs[demands[demand].Class] = leastPairs.GetValueOrDefault(demands[demand].Class) + served[demand];
        return new(PairingStatus.Optimal, Matching.Greatest(pool, leastPairs, cancellation), served, 0);
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
