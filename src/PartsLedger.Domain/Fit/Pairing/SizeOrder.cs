namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Sorts sizes and carries something along; equal sizes stay in the order they came in.</summary>
internal static class SizeOrder
{
    private const int Bits = 11;
    private const int Buckets = 1 << Bits;

    /// <summary>
    /// By counting digits from the lowest, as many digits as the spread of the sizes needs: two passes for halves within four
    /// millimetres of one another, and never slower than comparing at the sizes that matter.
    /// </summary>
    public static void Sort(long[] sizes, int[] carried)
    {
        var count = sizes.Length;
        if (count < 2) return;
        var (least, greatest) = (sizes[0], sizes[0]);
        foreach (var size in sizes)
        {
            if (size < least) least = size;
            if (size > greatest) greatest = size;
        }
        var spread = (ulong)(greatest - least);
        var (toSizes, toCarried) = (new long[count], new int[count]);
        var (fromSizes, fromCarried) = (sizes, carried);
        var starts = new int[Buckets + 1];
        for (var shift = 0; shift < 64 && spread >> shift != 0; shift += Bits)
        {
            Array.Clear(starts);
            foreach (var size in fromSizes) starts[(int)((ulong)(size - least) >> shift & (Buckets - 1)) + 1]++;
            for (var bucket = 0; bucket < Buckets; bucket++) starts[bucket + 1] += starts[bucket];
            for (var place = 0; place < count; place++)
            {
                var size = fromSizes[place];
                var to = starts[(int)((ulong)(size - least) >> shift & (Buckets - 1))]++;
                (toSizes[to], toCarried[to]) = (size, fromCarried[place]);
            }
            (fromSizes, toSizes, fromCarried, toCarried) = (toSizes, fromSizes, toCarried, fromCarried);
        }
        if (ReferenceEquals(fromSizes, sizes)) return;
        fromSizes.CopyTo(sizes, 0);
        fromCarried.CopyTo(carried, 0);
    }
}
