namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>One side's free halves, sorted by size, then by the caller's order. Arrays are parallel.</summary>
/// <param name="Original">Places in the problem's list.</param>
internal sealed record PoolSide(int[] Original, long[] Size, long[] Guard, int[] Class)
{
    public int Count => Original.Length;

    /// <param name="of">The class that each half counts as, by the caller's order.</param>
    public static PoolSide Of(LooseHalf[] halves, int[] of, bool[] taken)
    {
        var free = 0;
        foreach (var one in taken)
            if (!one) free++;
        var side = new PoolSide(new int[free], new long[free], new long[free], new int[free]);
        var (original, size) = (side.Original, side.Size);
        free = 0;
        var (oneGuard, oneClass) = (true, true);
        for (var place = 0; place < halves.Length; place++)
        {
            if (taken[place]) continue;
            (original[free], size[free]) = (place, halves[place].Size);
            oneGuard &= halves[place].Guard == halves[original[0]].Guard;
            oneClass &= of[place] == of[original[0]];
            free++;
        }
        SizeOrder.Sort(size, original);
        // Guards and classes mostly are all the same: then they need not be fetched from all over the list.
        if (oneGuard && free > 0) Array.Fill(side.Guard, halves[original[0]].Guard);
        else
            for (var place = 0; place < free; place++) side.Guard[place] = halves[original[place]].Guard;
        if (oneClass && free > 0) Array.Fill(side.Class, of[original[0]]);
        else
            for (var place = 0; place < free; place++) side.Class[place] = of[original[place]];
        return side;
    }
}
