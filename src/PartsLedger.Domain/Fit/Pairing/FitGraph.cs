namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Every pair that fits, valve by valve: housings of valve v stand in Housings[Start[v]..Start[v+1]], the nearest to the target first.
/// </summary>
internal sealed record FitGraph(int[] Start, int[] Housings)
{
    public static FitGraph Of(PairingPool pool)
    {
        var (start, housings) = (new int[pool.Valves.Count + 1], new List<int>());
        var sizes = pool.Housings.Size;
        for (var valve = 0; valve < pool.Valves.Count; valve++)
        {
            // Without the housings' own guards the fitting sizes are one run, walked outwards from the target; the rest picks from it.
            var (least, best, greatest) = (
                pool.ValveHigh(valve) + pool.Minimum, pool.Valves.Size[valve] + pool.Target, pool.ValveLow(valve) + pool.Maximum);
            var above = FirstAtOrAbove(sizes, best);
            var below = above - 1;
            while (true)
            {
                var downIsNearer = below >= 0 && (above == sizes.Length || best - sizes[below] <= sizes[above] - best);
                if (!downIsNearer && above == sizes.Length) break;
                var housing = downIsNearer ? below-- : above++;
                if (sizes[housing] >= least && sizes[housing] <= greatest)
                {
                    if (pool.Fits(housing, valve)) housings.Add(housing);
                }
                else if (downIsNearer) below = sizes[housing] < least ? -1 : below;
                else above = sizes[housing] > greatest ? sizes.Length : above;
            }
            start[valve + 1] = housings.Count;
        }
        return new(start, [.. housings]);
    }

    private static int FirstAtOrAbove(long[] sorted, long size)
    {
        var (low, high) = (0, sorted.Length);
        while (low < high)
        {
            var middle = (low + high) >> 1;
            if (sorted[middle] < size) low = middle + 1;
            else high = middle;
        }
        return low;
    }
}
