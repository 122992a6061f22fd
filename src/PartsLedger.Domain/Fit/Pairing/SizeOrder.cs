namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Sorts sizes and carries something along; equal sizes stay in the order they came in.</summary>
internal static class SizeOrder
{
    private const int Bits = 8;
    private const int Buckets = 1 << Bits;

    /// <summary>
    /// By counting digits from the lowest, as many digits as the spread of the sizes needs: two passes for halves within 65 µm of one
    /// another. Size and what is carried move together, into no more places at once than the nearest cache has lines.
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
        var (from, to) = (new (ulong Above, int Carried)[count], new (ulong Above, int Carried)[count]);
        for (var place = 0; place < count; place++) from[place] = ((ulong)(sizes[place] - least), carried[place]);
        Span<int> next = stackalloc int[Buckets];
        for (var shift = 0; shift < 64 && spread >> shift != 0; shift += Bits)
        {
            next.Clear();
            foreach (var (above, _) in from) next[(int)(above >> shift & (Buckets - 1))]++;
            for (int bucket = 0, start = 0; bucket < Buckets; bucket++) (next[bucket], start) = (start, start + next[bucket]);
            foreach (var one in from) to[next[(int)(one.Above >> shift & (Buckets - 1))]++] = one;
            (from, to) = (to, from);
        }
        for (var place = 0; place < count; place++) (sizes[place], carried[place]) = ((long)from[place].Above + least, from[place].Carried);
    }
}
