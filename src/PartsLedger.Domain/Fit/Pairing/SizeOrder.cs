namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Sorts sizes and carries something along; equal sizes stay in the order they came in.</summary>
internal static class SizeOrder
{
    private const int Bits = 8;
    private const int Buckets = 1 << Bits;
    private const int CarriedBits = 32;

    /// <summary>
    /// By counting digits from the lowest, as many digits as the spread of the sizes needs: two passes for halves within 65 µm of one
    /// another. What a size is above the least and what it carries move as one word, into no more places at once than the nearest cache
    /// has lines. Sizes that spread over four metres and more, which no shop has, are sorted by comparing.
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
        if (spread >> CarriedBits != 0)
        {
            ByComparing(sizes, carried);
            return;
        }
        var words = GC.AllocateUninitializedArray<ulong>(count);
        for (var place = 0; place < count; place++) words[place] = (ulong)(sizes[place] - least) << CarriedBits | (uint)carried[place];
        words = ByCounting(words, spread);
        for (var place = 0; place < count; place++) (sizes[place], carried[place]) = ((long)(words[place] >> CarriedBits) + least, (int)(words[place] & uint.MaxValue));
    }

    private static ulong[] ByCounting(ulong[] from, ulong spread)
    {
        var to = GC.AllocateUninitializedArray<ulong>(from.Length);
        Span<int> next = stackalloc int[Buckets];
        for (var shift = 0; spread >> shift != 0; shift += Bits)
        {
            next.Clear();
            foreach (var word in from) next[(int)(word >> (shift + CarriedBits) & (Buckets - 1))]++;
            for (int bucket = 0, start = 0; bucket < Buckets; bucket++) (next[bucket], start) = (start, start + next[bucket]);
            foreach (var word in from) to[next[(int)(word >> (shift + CarriedBits) & (Buckets - 1))]++] = word;
            (from, to) = (to, from);
        }
        return from;
    }

    private static void ByComparing(long[] sizes, int[] carried)
    {
        var order = new (long Size, int Came)[sizes.Length];
        for (var place = 0; place < order.Length; place++) order[place] = (sizes[place], place);
        Array.Sort(order);
        var came = (int[])carried.Clone();
        for (var place = 0; place < order.Length; place++) (sizes[place], carried[place]) = (order[place].Size, came[order[place].Came]);
    }
}
