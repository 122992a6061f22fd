namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Housings of one class by rising low end, in a tree that keeps the greatest high end below each node: gives any housing still in it
/// that covers a valve in O(log n).
/// </summary>
internal sealed class CoverTree
{
    private readonly int[] _housings;
    private readonly long[] _lows;
    private readonly long[] _highs;
    private readonly long[] _greatest;
    private readonly int _leaves;

    /// <param name="housings">Places in the pool.</param>
    public CoverTree(PairingPool pool, int[] housings)
    {
        _housings = housings;
        _lows = [.. housings.Select(pool.HousingLow)];
        SizeOrder.Sort(_lows, _housings);
        _highs = [.. _housings.Select(pool.HousingHigh)];
        _leaves = 1;
        while (_leaves < _housings.Length) _leaves *= 2;
        _greatest = new long[2 * _leaves];
        Array.Fill(_greatest, long.MinValue);
        for (var leaf = 0; leaf < _housings.Length; leaf++) _greatest[_leaves + leaf] = _highs[leaf];
        for (var node = _leaves - 1; node > 0; node--) _greatest[node] = Math.Max(_greatest[2 * node], _greatest[2 * node + 1]);
    }

    /// <summary>Takes out a housing that covers the range, and gives its leaf, or −1.</summary>
    public int TakeCovering(long low, long high)
    {
        // Leaves below this one have a low end at or below the valve's.
        var (end, above) = (0, _lows.Length);
        while (end < above)
        {
            var middle = (end + above) >> 1;
            if (_lows[middle] <= low) end = middle + 1;
            else above = middle;
        }
        var leaf = First(1, 0, _leaves, end, high);
        if (leaf >= 0) Set(leaf, long.MinValue);
        return leaf;
    }

    public int Housing(int leaf) => _housings[leaf];

    public void PutBack(int leaf) => Set(leaf, _highs[leaf]);

    private int First(int node, int from, int to, int end, long high)
    {
        if (from >= end || _greatest[node] < high) return -1;
        if (to - from == 1) return from;
        var middle = (from + to) >> 1;
        var left = First(2 * node, from, middle, end, high);
        return left >= 0 ? left : First(2 * node + 1, middle, to, end, high);
    }

    private void Set(int leaf, long value)
    {
        var node = _leaves + leaf;
        _greatest[node] = value;
        while ((node >>= 1) > 0)
        {
            var greatest = Math.Max(_greatest[2 * node], _greatest[2 * node + 1]);
            if (_greatest[node] == greatest) return;
            _greatest[node] = greatest;
        }
    }
}
