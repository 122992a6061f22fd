using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Least-deviation pairings of a pool, with the narrowest arithmetic that has room.</summary>
internal static class Matching
{
    // Prices and distances are sums of at most so many squares or shelf costs; half the range is left as room.
    private const int RoomFor64 = 61;

    /// <summary>The least sum among pairings of the greatest number that keep each class's least number of pairs.</summary>
    public static int[] Greatest(PairingPool pool, IReadOnlyDictionary<int, int> leastPairs, CancellationToken cancellation) =>
        Find(pool, Shelves.Keeping(pool.Valves, leastPairs), layDown: true, cancellation);

    /// <summary>The least sum among pairings of just so many pairs; beyond <see cref="PairingLimits.ExactSide"/> some pairing of that many.</summary>
    /// <param name="some">A pairing of at least as many.</param>
    public static int[] OfSize(PairingPool pool, int[] some, int pairs, CancellationToken cancellation)
    {
        if (Math.Max(pool.Housings.Count, pool.Valves.Count) <= PairingLimits.ExactSide)
            return Find(pool, Shelves.One(pool.Valves.Count, pool.Valves.Count - pairs), layDown: false, cancellation);
        var left = pairs;
        return [.. some.Select(housing => housing >= 0 && left-- > 0 ? housing : -1)];
    }

    private static int[] Find(PairingPool pool, Shelves shelves, bool layDown, CancellationToken cancellation)
    {
        var graph = FitGraph.Of(pool);
        var widest = (BigInteger)Math.Max(pool.Maximum - pool.Target, pool.Target - pool.Minimum);
        var most = Math.Min(pool.Housings.Count, pool.Valves.Count);
        // A longest chain of exchanges moves each pair once: laying down must cost more than it can ever save.
        var cost = layDown ? widest * widest * most + 1 : 0;
        var largest = (cost + widest * widest) * (most + 1);
        if ((int)largest.GetBitLength() <= RoomFor64) return LeastDeviation<long>.Find(pool, graph, shelves, (long)cost, cancellation);
        return LeastDeviation<Int128>.Find(pool, graph, shelves, (Int128)cost, cancellation);
    }
}
