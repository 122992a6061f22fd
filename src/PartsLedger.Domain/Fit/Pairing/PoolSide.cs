namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>One side's free halves, sorted by size, then by the caller's order. Arrays are parallel.</summary>
/// <param name="Original">Places in the problem's list.</param>
internal sealed record PoolSide(int[] Original, long[] Size, long[] Guard, int[] Class)
{
    public int Count => Original.Length;

    public static PoolSide Of(IReadOnlyList<LooseHalf> halves, bool[] taken)
    {
        var free = 0;
        for (var place = 0; place < halves.Count; place++)
            if (!taken[place]) free++;
        var (original, size) = (new int[free], new long[free]);
        free = 0;
        for (var place = 0; place < halves.Count; place++)
            if (!taken[place]) (original[free], size[free++]) = (place, halves[place].Size);
        SizeOrder.Sort(size, original);
        var (guard, of) = (new long[free], new int[free]);
        for (var place = 0; place < free; place++)
        {
            var half = halves[original[place]];
            (guard[place], of[place]) = (half.Guard, half.Class);
        }
        return new(original, size, guard, of);
    }
}
