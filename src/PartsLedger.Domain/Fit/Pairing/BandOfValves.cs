namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// For each valve the run of housings that would fit if they had the least guard of all. Which of them do fit with their own guards and
/// classes is left to <see cref="PairingPool.Fits"/>.
/// </summary>
/// <param name="First">The first housing of the run.</param>
/// <param name="Nearest">The first housing at or above the target, whether in the run or not.</param>
/// <param name="End">The first housing beyond the run; at or below <paramref name="First"/> when it is empty.</param>
internal sealed record BandOfValves(int[] First, int[] Nearest, int[] End)
{
    public static BandOfValves Of(PairingPool pool)
    {
        var sizes = pool.Housings.Size;
        var valves = pool.Valves.Count;
        var band = new BandOfValves(new int[valves], new int[valves], new int[valves]);
        var leastGuard = sizes.Length == 0 ? 0 : pool.Housings.Guard.Min();
        for (var valve = 0; valve < valves; valve++)
        {
            band.First[valve] = FirstAtOrAbove(sizes, pool.ValveHigh(valve) + pool.Minimum + leastGuard);
            band.Nearest[valve] = FirstAtOrAbove(sizes, pool.Valves.Size[valve] + pool.Target);
            band.End[valve] = FirstAtOrAbove(sizes, pool.ValveLow(valve) + pool.Maximum - leastGuard + 1);
        }
        return band;
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
