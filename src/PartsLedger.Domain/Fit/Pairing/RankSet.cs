using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// A set of ranks 0..n−1 that gives the least member at or above a rank: a tree of 64-way bit words, so adding, removing and asking
/// take as many steps as n has digits to base 64 (four at ten million).
/// </summary>
internal sealed class RankSet
{
    private readonly List<ulong[]> _levels = [];

    public RankSet(int ranks)
    {
        var words = ranks;
        do
        {
            words = (words + 63) / 64;
            _levels.Add(new ulong[Math.Max(words, 1)]);
        }
        while (words > 1);
    }

    public void Add(int rank)
    {
        foreach (var level in _levels)
        {
            level[rank >> 6] |= 1UL << (rank & 63);
            rank >>= 6;
        }
    }

    public void Remove(int rank)
    {
        foreach (var level in _levels)
        {
            level[rank >> 6] &= ~(1UL << (rank & 63));
            if (level[rank >> 6] != 0) return;
            rank >>= 6;
        }
    }

    /// <summary>The least member at or above <paramref name="rank"/>, or −1.</summary>
    public int AtOrAbove(int rank)
    {
        for (var height = 0; height < _levels.Count; height++)
        {
            var level = _levels[height];
            if (rank >> 6 >= level.Length) return -1;
            var above = level[rank >> 6] & ulong.MaxValue << (rank & 63);
            if (above != 0)
            {
                rank = (rank & ~63) + BitOperations.TrailingZeroCount(above);
                while (height-- > 0) rank = (rank << 6) + BitOperations.TrailingZeroCount(_levels[height][rank]);
                return rank;
            }
            rank = (rank >> 6) + 1;
        }
        return -1;
    }
}
