using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Every spool of a row gets a bore of a row with as many or more, in order, at the least sum of squares. Exact at any size;
/// the work is near to linear for halves as they come, and grows where the answer lies far from what a coarser look suggests.
/// </summary>
/// <remarks>
/// <para>
/// Place j of the spools goes to bore j + offset(j), and offsets never fall. <see cref="PlacementBounds"/> bounds each spool's bore and
/// cuts the row into runs that have nothing to do with one another. Within a run <see cref="Corridor{T}"/> finds the best offsets among
/// those in a corridor. Its first middle is the best answer for every second bore and every second spool, found in the same way; then
/// the corridor is laid around what was found until nothing is gained.
/// </para>
/// <para>
/// Why that is the optimum and not just a good answer. (1) If a placement P is not optimal, giving up one bore a for one unused bore b
/// and pairing in order again improves it: the difference to an optimum falls into alternating paths between bores (closed cycles
/// leave the set of bores as it is and gain nothing on pairing in order), and one of them gains.
/// (2) Take such an improvement with a and b nearest to each other, say a &lt; b: the spools between each move to the next used bore, the
/// last to b. Were there an unused bore f between, after the used bore e of spool s and before the bore g it moves to, take the last
/// such f: the improvement would be one from a to f, one from g to b, and the difference of s at g and at f; neither of the two improves
/// by itself, so s is nearer to g than to f, hence nearer to f than to e unless those are the same size, and moving s alone from e to f
/// would be a shorter improvement. There is none. (3) If f and e are the same size, moving s to f is free. If e is not a, the
/// improvement is again the sum of two shorter ones. If it is, the placement was not slid: <see cref="Slide"/> moves a spool that is nearer
/// to the next size up to the last bore of its own size, and likewise down. So a placement that is not optimal, once slid, is improved by
/// moving one run of neighbours by a single offset. (4) Such a move that leaves a spool's bounds may be taken back for that spool at no
/// loss. (5) A corridor that reaches one offset to both sides of a slid placement holds every such move. If the best in it is no better,
/// the placement is optimal.
/// </para>
/// </remarks>
internal static class RowPlacement
{
    /// <returns>For each spool its bore.</returns>
    public static int[] Find(LineOrder line, CorridorSize corridor, CancellationToken cancellation)
    {
        var widest = Math.Max(Math.Abs(line.Low), Math.Abs(line.High));
        return HasRoom(widest, line.Spools.Length)
            ? Find<long>(line, corridor, cancellation)
            : Find<Int128>(line, corridor, cancellation);
    }

    private static bool HasRoom(long widest, int spools) => ((BigInteger)widest * widest * (spools + 1)).GetBitLength() < 62;

    private static int[] Find<T>(LineOrder line, CorridorSize size, CancellationToken cancellation) where T : struct, IBinaryInteger<T>
    {
        cancellation.ThrowIfCancellationRequested();
        var bounds = PlacementBounds.Of(line);
        var places = new int[line.Spools.Length];
        var corridor = new Corridor<T>(line, bounds);
        for (var from = 0; from < places.Length;)
        {
            var to = bounds.EndOfRun(from);
            if (bounds.Width(from, to) <= size.Full) corridor.Full(from, to, places);
            else Around(corridor, size, line, bounds, from, to, places, cancellation);
            from = to;
        }
        return places;
    }

    private static void Around<T>(
        Corridor<T> corridor, CorridorSize size, LineOrder line, PlacementBounds bounds, int from, int to, int[] places, CancellationToken cancellation)
        where T : struct, IBinaryInteger<T>
    {
        Guess(size, line, bounds, from, to, places, cancellation);
        var cost = corridor.Around(from, to, places, size.Reach);
        while (true)
        {
            cancellation.ThrowIfCancellationRequested();
            Slide(line, bounds, from, to, places);
            // One offset each way is enough of a proof; where it finds more to gain, look wider again.
            if (corridor.Around(from, to, places, reach: 1) >= cost) return;
            cost = corridor.Around(from, to, places, size.Reach);
        }
    }

    /// <summary>Places after every second bore and spool of the run, within the bounds.</summary>
    private static void Guess(
        CorridorSize size, LineOrder line, PlacementBounds bounds, int from, int to, int[] places, CancellationToken cancellation)
    {
        var (first, last) = (bounds.First[from], bounds.Last[to - 1]);
        // Every second half may not fit into the band; without it the differences can be as wide as the run.
        var widest = Math.Max(Math.Abs(line.Bores[last] - line.Spools[from]), Math.Abs(line.Bores[first] - line.Spools[to - 1]));
        var half = new LineOrder(EverySecond(line.Bores, first, last + 1), EverySecond(line.Spools, from, to), -widest, widest);
        var coarse = HasRoom(widest, half.Spools.Length)
            ? Find<long>(half, size, cancellation)
            : Find<Int128>(half, size, cancellation);
        var offset = int.MinValue;
        for (var spool = from; spool < to; spool++)
        {
            var at = spool - from;
            offset = Math.Max(offset, first + 2 * (coarse[at / 2] - at / 2) - from);
            places[spool] = Math.Clamp(spool + offset, bounds.First[spool], bounds.Last[spool]);
        }
    }

    private static long[] EverySecond(long[] row, int from, int to)
    {
        var every = new long[(to - from + 1) / 2];
        for (var at = 0; at < every.Length; at++) every[at] = row[from + 2 * at];
        return every;
    }

    /// <summary>Moves spools among unused bores of the same size, next to the bigger or smaller size that they would rather have.</summary>
    private static void Slide(LineOrder line, PlacementBounds bounds, int from, int to, int[] places)
    {
        var (bores, spools) = (line.Bores, line.Spools);
        for (var spool = to - 1; spool >= from; spool--)
        {
            var (place, end) = (places[spool], spool + 1 < to ? Math.Min(places[spool + 1] - 1, bounds.Last[spool]) : bounds.Last[spool]);
            while (place < end && bores[place + 1] == bores[place]) place++;
            if (place > places[spool] && place + 1 < bores.Length && Nearer(place + 1, place, spool)) places[spool] = place;
        }
        for (var spool = from; spool < to; spool++)
        {
            var (place, end) = (places[spool], spool > from ? Math.Max(places[spool - 1] + 1, bounds.First[spool]) : bounds.First[spool]);
            while (place > end && bores[place - 1] == bores[place]) place--;
            if (place < places[spool] && place > 0 && Nearer(place - 1, place, spool)) places[spool] = place;
        }

        bool Nearer(int one, int other, int spool) => Math.Abs(bores[one] - spools[spool]) < Math.Abs(bores[other] - spools[spool]);
    }
}
