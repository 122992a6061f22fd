using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Least-deviation pairings of a pool, with the narrowest arithmetic that has room.</summary>
internal static class Matching
{
    // Prices and distances are sums of at most so many squares or shelf costs; half the range is left as room.
    private const int RoomFor64 = 61;

    /// <summary>What a search came to.</summary>
    /// <param name="HousingOf">For each valve its housing or −1; not all that could be paired when the search stopped before the end.</param>
    /// <param name="LeastSum">No pairing of the greatest number has a smaller sum; told only when the search stopped before the end.</param>
    internal sealed record Outcome(bool IsOptimal, int[] HousingOf, UInt128 LeastSum);

    /// <summary>The least sum among pairings of the greatest number that keep each class's least number of pairs.</summary>
    /// <param name="greatest">The greatest number; only the bound of a search that stops needs it.</param>
    /// <param name="mostLooks">How much may be looked at before the search stops.</param>
    public static Outcome Greatest(
        PairingPool pool, IReadOnlyDictionary<int, int> leastPairs, int greatest, long mostLooks, CancellationToken cancellation)
    {
        var shelves = Shelves.Keeping(pool.Valves, leastPairs);
        // A longest chain of exchanges moves each pair once: laying down must cost more than it can ever save.
        var layDown = Widest(pool) * Widest(pool) * Math.Min(pool.Housings.Count, pool.Valves.Count) + 1;
        return Narrow(pool, layDown)
            ? Find(pool, shelves, (long)layDown, greatest, mostLooks, cancellation)
            : Find(pool, shelves, (Int128)layDown, greatest, mostLooks, cancellation);
    }

    /// <summary>The least sum among pairings of just so many pairs; beyond <see cref="PairingLimits.ExactSide"/> some pairing of that many.</summary>
    /// <param name="some">A pairing of at least as many.</param>
    public static int[] OfSize(PairingPool pool, int[] some, int pairs, CancellationToken cancellation)
    {
        if (Math.Max(pool.Housings.Count, pool.Valves.Count) > PairingLimits.ExactSide)
        {
            var left = pairs;
            return [.. some.Select(housing => housing >= 0 && left-- > 0 ? housing : -1)];
        }
        // Lying down is better than any pair, so the shelf is full and just the others are paired.
        var shelves = Shelves.One(pool.Valves.Count, pool.Valves.Count - pairs);
        return Narrow(pool, 0) ? Find<long>() : Find<Int128>();

        int[] Find<T>() where T : struct, IBinaryInteger<T>
        {
            var search = new LeastDeviation<T>(pool, shelves, -T.One);
            search.Complete(long.MaxValue, cancellation);
            return search.HousingOf;
        }
    }

    private static Outcome Find<T>(
        PairingPool pool, Shelves shelves, T layDown, int greatest, long mostLooks, CancellationToken cancellation)
        where T : struct, IBinaryInteger<T>
    {
        var search = new LeastDeviation<T>(pool, shelves, layDown);
        var (prices, housingOf) = LinePrices.Of(pool, layDown, cancellation);
        search.BeginWith(prices, housingOf);
        var isOptimal = search.Complete(mostLooks, cancellation);
        var bound = isOptimal ? 0 : search.Bound() - BigInteger.CreateChecked(layDown) * (pool.Valves.Count - greatest);
        return new(isOptimal, search.HousingOf, (UInt128)BigInteger.Max(0, bound));
    }

    private static BigInteger Widest(PairingPool pool) => Math.Max(pool.Maximum - pool.Target, pool.Target - pool.Minimum);

    private static bool Narrow(PairingPool pool, BigInteger layDown) =>
        ((layDown + Widest(pool) * Widest(pool)) * (Math.Min(pool.Housings.Count, pool.Valves.Count) + 1)).GetBitLength() <= RoomFor64;
}
