namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Every pair that fits, valve by valve: housings of valve v stand in Housings[Start[v]..Start[v+1]], by rising place.</summary>
internal sealed record FitGraph(int[] Start, int[] Housings)
{
    public static FitGraph Of(PairingPool pool, Func<int, int, bool>? also = null)
    {
        var (start, housings) = (new int[pool.Valves.Count + 1], new List<int>());
        var sizes = pool.Housings.Size;
        for (var valve = 0; valve < pool.Valves.Count; valve++)
        {
            // Without the housings' own guards the fitting sizes are one run; the guards and classes then pick from it.
            var least = pool.ValveHigh(valve) + pool.Minimum;
            var greatest = pool.ValveLow(valve) + pool.Maximum;
            var from = Array.BinarySearch(sizes, least);
            if (from < 0) from = ~from;
            while (from > 0 && sizes[from - 1] >= least) from--;
            for (var housing = from; housing < sizes.Length && sizes[housing] <= greatest; housing++)
                if (pool.Fits(housing, valve) && (also is null || also(housing, valve))) housings.Add(housing);
            start[valve + 1] = housings.Count;
        }
        return new(start, [.. housings]);
    }
}
