namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>The greatest number and the least deviation, exactly, at any size, where all guards of a side are equal and classes do not bind.</summary>
/// <remarks>
/// A greatest pairing found by <see cref="LineOrder.Walk"/> splits both rows into three parts that no greatest pairing mixes
/// (Dulmage and Mendelsohn): what chains of exchanges reach from bores left over, where every spool is used; what they reach from spools
/// left over, where every bore is used; and the rest, where everything is used, so that it is paired in its order. In the first two only
/// one side has a choice: <see cref="RowPlacement"/> makes it.
/// </remarks>
internal static class LinePairing
{
    /// <returns>For each spool its bore, or −1.</returns>
    public static int[] Find(LineOrder line, CorridorSize corridor, CancellationToken cancellation)
    {
        var boreOf = line.Walk();
        var spoolOf = new int[line.Bores.Length];
        Array.Fill(spoolOf, -1);
        for (var spool = 0; spool < boreOf.Length; spool++)
            if (boreOf[spool] >= 0) spoolOf[boreOf[spool]] = spool;

        var spoolsAllUsed = Reached(line, boreOf, spoolOf);
        var boresAllUsed = Reached(line.ChangedOver(), spoolOf, boreOf);
        Improve(line, boreOf, spoolOf, spoolsAllUsed, (spool, bore) => boreOf[spool] = bore, corridor, cancellation);
        Improve(line.ChangedOver(), spoolOf, boreOf, boresAllUsed, (bore, spool) => spoolOf[bore] = spool, corridor, cancellation);

        // The two parts share nothing: each has written its own side, and the second the bores' side only.
        for (var spool = 0; spool < boreOf.Length; spool++)
            if (boreOf[spool] < 0 || boresAllUsed[boreOf[spool]]) boreOf[spool] = -1;
        for (var bore = 0; bore < spoolOf.Length; bore++)
            if (boresAllUsed[bore]) boreOf[spoolOf[bore]] = bore;
        return boreOf;
    }

    /// <summary>
    /// The spools that chains of exchanges reach from bores left over. From one such bore they are a run: its own band is one, and every
    /// partner's band is a run that overlaps it, since it holds the partner's spool. The run's right end is found by following the
    /// partner of the last spool reached, its left end by following the partner of the first, because partners do not cross.
    /// </summary>
    private static bool[] Reached(LineOrder line, int[] boreOf, int[] spoolOf)
    {
        var (bores, spools) = (line.Bores, line.Spools);
        var reached = new bool[spools.Length];
        if (Array.IndexOf(spoolOf, -1) < 0) return reached;
        var (first, last) = (new int[bores.Length], new int[bores.Length]);
        for (int bore = 0, from = 0, to = 0; bore < bores.Length; bore++)
        {
            while (from < spools.Length && bores[bore] - spools[from] > line.High) from++;
            while (to < spools.Length && bores[bore] - spools[to] >= line.Low) to++;
            (first[bore], last[bore]) = (from, to - 1);
        }
        for (int spool = 0, bore = 0, end = -1; spool < spools.Length; spool++)
        {
            for (; bore < bores.Length && first[bore] <= spool; bore++)
                if (spoolOf[bore] < 0) end = Math.Max(end, last[bore]);
            if (spool > end) continue;
            reached[spool] = true;
            end = Math.Max(end, last[boreOf[spool]]);
        }
        for (int spool = spools.Length - 1, bore = bores.Length - 1, end = spools.Length; spool >= 0; spool--)
        {
            for (; bore >= 0 && last[bore] >= spool; bore--)
                if (spoolOf[bore] < 0) end = Math.Min(end, first[bore]);
            if (spool < end) continue;
            reached[spool] = true;
            end = Math.Min(end, first[boreOf[spool]]);
        }
        return reached;
    }

    /// <summary>Chooses anew, at the least cost, which bores the reached spools use.</summary>
    private static void Improve(
        LineOrder line, int[] boreOf, int[] spoolOf, bool[] reached, Action<int, int> pair, CorridorSize corridor, CancellationToken cancellation)
    {
        var (spools, spoolSizes) = Chosen(line.Spools, spool => reached[spool]);
        if (spools.Length == 0) return;
        var (bores, boreSizes) = Chosen(line.Bores, bore => spoolOf[bore] < 0 || reached[spoolOf[bore]]);
        var places = RowPlacement.Find(new(boreSizes, spoolSizes, line.Low, line.High), corridor, cancellation);
        for (var at = 0; at < spools.Length; at++) pair(spools[at], bores[places[at]]);
    }

    private static (int[] Places, long[] Sizes) Chosen(long[] row, Func<int, bool> chosen)
    {
        var (places, count) = (new int[row.Length], 0);
        for (var place = 0; place < row.Length; place++)
            if (chosen(place)) places[count++] = place;
        Array.Resize(ref places, count);
        var sizes = new long[count];
        for (var at = 0; at < count; at++) sizes[at] = row[places[at]];
        return (places, sizes);
    }
}
