namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>How many valves each housing takes, by size and guards, in O(n log n).</summary>
internal static class FitCount
{
    /// <remarks>
    /// A valve lies within the housing when it neither ends above the housing's high end nor begins below its low end. The sweep goes by
    /// rising high end; of the valves that end early enough, a counting tree over low ends counts those that begin too low.
    /// </remarks>
    public static int[] PerHousing(PairingPool pool)
    {
        var (valves, housings) = (pool.Valves.Count, pool.Housings.Count);
        var lows = Enumerable.Range(0, valves).Select(pool.ValveLow).Order().ToArray();
        var byHigh = Enumerable.Range(0, valves).OrderBy(pool.ValveHigh).ToArray();
        var tree = new int[valves + 1];
        var (fits, next) = (new int[housings], 0);
        foreach (var housing in Enumerable.Range(0, housings).OrderBy(pool.HousingHigh))
        {
            for (; next < valves && pool.ValveHigh(byHigh[next]) <= pool.HousingHigh(housing); next++)
                for (var at = Below(lows, pool.ValveLow(byHigh[next])) + 1; at <= valves; at += at & -at) tree[at]++;
            var (within, below) = (next, Below(lows, pool.HousingLow(housing)));
            for (var at = below; at > 0; at -= at & -at) within -= tree[at];
            fits[housing] = within;
        }
        return fits;
    }

    private static int Below(long[] sorted, long key)
    {
        var (low, high) = (0, sorted.Length);
        while (low < high)
        {
            var middle = (low + high) >> 1;
            if (sorted[middle] < key) low = middle + 1;
            else high = middle;
        }
        return low;
    }
}
