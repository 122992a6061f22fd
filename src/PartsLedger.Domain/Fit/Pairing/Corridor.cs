using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// The best offsets of a run within a corridor, by dynamic programming: the least cost of the spools so far with the last at an offset at or
/// below each, which is one running minimum per spool. One bit per place remembers the way.
/// </summary>
/// <typeparam name="T">Wide enough for the sum of the squares.</typeparam>
internal sealed class Corridor<T>(LineOrder line, PlacementBounds bounds) where T : struct, IBinaryInteger<T>
{
    private readonly ulong[] _ways = new ulong[line.Spools.Length];
    private readonly int[] _bottom = new int[line.Spools.Length];
    private T[] _least = [];

    /// <summary>Tries all places within the bounds, which are at most <see cref="CorridorSize.Widest"/> wide.</summary>
    public void Full(int from, int to, int[] places)
    {
        if (to == from + 1 && bounds.First[from] == bounds.Last[from])
        {
            places[from] = bounds.First[from];
            return;
        }
        Search(from, to, places, CorridorSize.Widest, around: false);
    }

    /// <summary>Tries the places within <paramref name="reach"/> of those given, and writes the best in their stead.</summary>
    /// <returns>The sum of squares. Of equally good places the lowest are taken.</returns>
    public T Around(int from, int to, int[] places, int reach) => Search(from, to, places, reach, around: true);

    private T Search(int from, int to, int[] places, int reach, bool around)
    {
        var lowest = bounds.First[from] - from;
        var range = bounds.Last[to - 1] - (to - 1) - lowest + 1;
        if (_least.Length < range) _least = new T[Math.Max(range, 2 * _least.Length)];
        var least = _least.AsSpan(0, range);
        var reached = -1;
        for (var spool = from; spool < to; spool++)
        {
            var bottom = bounds.First[spool] - spool - lowest;
            var top = bounds.Last[spool] - spool - lowest;
            if (around)
            {
                var middle = places[spool] - spool - lowest;
                (bottom, top) = (Math.Max(bottom, middle - reach), Math.Min(top, middle + reach));
            }
            if (spool == from) least[bottom..(top + 1)].Clear();
            else if (top > reached) least[(reached + 1)..(top + 1)].Fill(least[reached]);
            reached = top;
            _bottom[spool] = bottom + lowest;
            var bores = line.Bores.AsSpan(spool + lowest + bottom, top - bottom + 1);
            _ways[spool] = Step(least.Slice(bottom, bores.Length), bores, line.Spools[spool]);
        }
        var cost = least[reached];
        for (int spool = to - 1, offset = reached + lowest; spool >= from; spool--)
        {
            var upTo = Math.Min(offset - _bottom[spool], CorridorSize.Widest - 1);
            var ways = _ways[spool] & ulong.MaxValue >> (CorridorSize.Widest - 1 - upTo);
            offset = _bottom[spool] + (CorridorSize.Widest - 1 - BitOperations.LeadingZeroCount(ways));
            places[spool] = spool + offset;
        }
        return cost;
    }

    /// <summary>Adds one spool. A set bit says that the spool goes just here and not lower.</summary>
    private static ulong Step(Span<T> least, ReadOnlySpan<long> bores, long spool)
    {
        unchecked // the caller's T has room for the sum of all squares
        {
            var best = least[0] + Squared(bores[0] - spool);
            least[0] = best;
            var ways = 1UL;
            for (var at = 1; at < least.Length; at++)
            {
                var here = least[at] + Squared(bores[at] - spool);
                // Without a jump: which way it goes cannot be foreseen.
                ways |= (here < best ? 1UL : 0UL) << at;
                best = T.Min(here, best);
                least[at] = best;
            }
            return ways;
        }
    }

    private static T Squared(long deviation)
    {
        var wide = T.CreateTruncating(deviation);
        return unchecked(wide * wide);
    }
}

/// <summary>How much a corridor holds: tuning that changes the time an answer takes, never the answer's cost.</summary>
/// <param name="Full">Up to this many places for a spool all are tried; at most <see cref="Widest"/>.</param>
/// <param name="Reach">
/// Otherwise offsets tried to each side of the middle, from 1. A coarser look is off by a few; wider costs time, narrower costs repeats.
/// </param>
internal readonly record struct CorridorSize(int Full, int Reach)
{
    /// <summary>One word of bits remembers a spool's ways.</summary>
    public const int Widest = 64;

    public static CorridorSize Usual { get; } = new(Widest, 8);
}
