using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Prices and places to begin with: the optimum on a line when every half has its side's least guard and classes do not matter. Whatever
/// fits with its own guard and class fits there too, so the prices hold for it, and many places do.
/// </summary>
/// <remarks>
/// Only neighbours matter for the prices of an optimum on a line: that a spool is not better off in the next used bore up or down, and that
/// a spool left over would not rather have its neighbours' bores. These are differences between neighbours, so the greatest prices not
/// above zero are shortest ways along the row: one pass up and one pass down. The search that begins with them takes nothing on trust: it
/// keeps a place only if the prices prove it.
/// </remarks>
internal static class LinePrices
{
    /// <returns>For each housing its price, at most zero, and for each valve its housing or −1.</returns>
    public static (T[] Prices, int[] HousingOf) Of<T>(PairingPool pool, T layDown, CancellationToken cancellation)
        where T : struct, IBinaryInteger<T>
    {
        var single = SingleLine.WithLeastGuards(pool);
        var line = single.Line;
        var boreOf = LinePairing.Find(line, CorridorSize.Usual, cancellation);
        var prices = new T[pool.Housings.Count];
        int[] used = [.. boreOf.Where(bore => bore >= 0).Order()];
        var spools = new int[used.Length];
        var housingOf = new int[boreOf.Length];
        var price = new T[used.Length];
        var pair = 0;
        for (var spool = 0; spool < boreOf.Length; spool++)
        {
            housingOf[spool] = -1;
            if (boreOf[spool] >= 0)
            {
                housingOf[spool] = single.Housings[used[pair]];
                spools[pair++] = spool;
                continue;
            }
            if (pair > 0) LeaveTo(pair - 1, spool);
            if (pair < used.Length) LeaveTo(pair, spool);
        }
        for (var at = 1; at < used.Length; at++) Beside(at - 1, at);
        for (var at = used.Length - 2; at >= 0; at--) Beside(at + 1, at);
        for (var at = 0; at < used.Length; at++) prices[single.Housings[used[at]]] = price[at];
        return (prices, housingOf);

        // A spool left over does not want the bore at its price.
        void LeaveTo(int at, int spool)
        {
            if (Squared(used[at], spool) is { } cost) price[at] = T.Min(price[at], cost - layDown);
        }

        // The spool of one pair does not want the bore of another at its price.
        void Beside(int from, int to)
        {
            if (Squared(used[to], spools[from]) is { } there && Squared(used[from], spools[from]) is { } here)
                price[to] = T.Min(price[to], price[from] + there - here);
        }

        T? Squared(int bore, int spool)
        {
            var difference = line.Bores[bore] - line.Spools[spool];
            if (difference < line.Low || difference > line.High) return null;
            var wide = T.CreateTruncating(difference);
            return wide * wide;
        }
    }
}
