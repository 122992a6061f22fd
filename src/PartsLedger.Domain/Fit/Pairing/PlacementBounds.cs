namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>The first and the last bore that each spool of a row needs to be tried in. Offsets of both (place less spool) never fall.</summary>
/// <remarks>
/// Two reasons bound a place. The band and the neighbours: every spool before needs a bore of its own below, every one after above. And
/// nearness: with near(j) one of the nearest bores in spool j's band, some optimum has place(j) ≤ upper(j) = max(near(j), upper(j−1) + 1): the
/// first spool beyond it has the bore below unused and at least as near, so it moves down at no loss; likewise from below.
/// Each move brings a spool nearer to near(j), so it ends.
/// </remarks>
internal sealed class PlacementBounds
{
    private PlacementBounds(int[] first, int[] last) => (First, Last) = (first, last);

    public int[] First { get; }
    public int[] Last { get; }

    /// <param name="line">A line on which every spool can be paired.</param>
    public static PlacementBounds Of(LineOrder line)
    {
        var (bores, spools) = (line.Bores, line.Spools);
        var (first, last, near) = (new int[spools.Length], new int[spools.Length], new int[spools.Length]);
        var sameFrom = StartsOfSame(bores);
        int from = 0, to = 0, above = 0, lower = -1, upper = -1, nearest = -1;
        for (var spool = 0; spool < spools.Length; spool++)
        {
            var size = spools[spool];
            while (from < bores.Length && bores[from] - size < line.Low) from++;
            while (to < bores.Length && bores[to] - size <= line.High) to++;
            while (above < bores.Length && bores[above] < size) above++;
            var at = Math.Clamp(above, from, to - 1);
            if (at == above && at > from && size - bores[at - 1] <= bores[at] - size) at--;
            // Of bores of one size the first that the spool before has not taken as its nearest.
            var same = sameFrom[at];
            var next = Math.Max(nearest + 1, same);
            nearest = near[spool] = next < bores.Length && sameFrom[next] == same ? next : next - 1;
            first[spool] = lower = Math.Max(lower + 1, from);
            upper = Math.Max(upper + 1, nearest);
            last[spool] = Math.Min(upper, to - 1);
        }
        (lower, upper) = (int.MaxValue, bores.Length);
        for (var spool = spools.Length - 1; spool >= 0; spool--)
        {
            lower = Math.Min(lower - 1, near[spool]);
            first[spool] = Math.Max(first[spool], lower);
            last[spool] = upper = Math.Min(upper - 1, last[spool]);
        }
        return new(first, last);
    }

    /// <summary>Where the run that begins at a spool ends: the next spool that can never want a bore that the run can take.</summary>
    public int EndOfRun(int from)
    {
        var to = from + 1;
        while (to < First.Length && Last[to - 1] >= First[to]) to++;
        return to;
    }

    /// <summary>The most places that any spool of a run has to be tried in.</summary>
    public int Width(int from, int to)
    {
        var width = 0;
        for (var spool = from; spool < to; spool++) width = Math.Max(width, Last[spool] - First[spool] + 1);
        return width;
    }

    private static int[] StartsOfSame(long[] sizes)
    {
        var starts = new int[sizes.Length];
        for (var at = 1; at < sizes.Length; at++) starts[at] = sizes[at] == sizes[at - 1] ? starts[at - 1] : at;
        return starts;
    }
}
