namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// The greatest number of pairs, with any guards and classes: first a sweep in O(n log n), then, only where classes make it fall
/// short, chains of exchanges. Jobs served first come before the sweep.
/// </summary>
/// <remarks>
/// <para>
/// The sweep takes the valves by rising low end and gives each the housing with the least high end that still covers it, among the
/// housings whose low end is at or below the valve's. Without classes this gives the greatest number. Proof: let P be a greatest
/// pairing that agrees with the sweep up to valve v, and let the sweep give v housing h. (1) If P leaves v alone, P's partner v' of h
/// can be given up for v: as many pairs (h has a partner in P, or P would not be greatest). (2) If P gives v another housing g and h
/// to nobody, v moves to h. (3) If P gives v housing g and h to a valve v' (later, for P agrees with the sweep before v): the sweep
/// preferred h, so g's high end is at or above h's and covers v'; g was available at v, whose low end is at or below that of v', so it
/// is available to v': exchange them. And if the sweep finds nothing for v, no housing that earlier valves left covers it, in P neither.
/// So P can be made to agree with the sweep at v as well, and so on to the end.
/// </para>
/// <para>
/// Jobs served first never cost a pair. Look at pairing as a flow of units: from the shop to an urgent job, to a valve of its class, to
/// a housing; or from the shop straight to a valve. The sets of first steps that can all be used at once are the independent sets of a
/// matroid (a gammoid, by Menger's theorem); where each valve's own step is all there is, it is the transversal matroid of the pairing
/// itself. In a matroid any independent set can be extended to a greatest one by the exchange property: so taking the steps of the most
/// urgent job as long as they are independent, then the next job's, then any, ends at the greatest number, and no other choice serves
/// an earlier job better. A chain of exchanges never gives up a first step it has, which is why each class keeps what it was served.
/// </para>
/// </remarks>
internal sealed class GreatestNumber
{
    private readonly PairingPool _pool;
    private readonly CancellationToken _cancellation;
    private readonly int[] _housingOf;
    private readonly int[] _valveOf;

    private GreatestNumber(PairingPool pool, CancellationToken cancellation)
    {
        (_pool, _cancellation) = (pool, cancellation);
        _housingOf = new int[pool.Valves.Count];
        _valveOf = new int[pool.Housings.Count];
        Array.Fill(_housingOf, -1);
        Array.Fill(_valveOf, -1);
    }

    /// <returns>For each valve its housing or −1, and how many pairs each demand got.</returns>
    public static (int[] HousingOf, int[] Served) Find(PairingPool pool, IReadOnlyList<ClassDemand> demands, CancellationToken cancellation)
    {
        var search = new GreatestNumber(pool, cancellation);
        var served = new int[demands.Count];
        Exchanges? exchanges = null;
        for (var demand = 0; demand < demands.Count; demand++)
        {
            exchanges ??= new Exchanges(pool, search._housingOf, search._valveOf, cancellation);
            while (served[demand] < demands[demand].Pairs && exchanges.ServeOneMore(demands[demand].Class)) served[demand]++;
        }
        search.Sweep();
        if (demands.Count > 0 || search.ClassesMatter())
            (exchanges ?? new Exchanges(pool, search._housingOf, search._valveOf, cancellation)).Complete();
        return (search._housingOf, served);
    }

    /// <summary>Adds pairs to some that there are, to the greatest number, changing partners where that is needed.</summary>
    /// <param name="some">For each valve its housing or −1.</param>
    public static int[] Complete(PairingPool pool, int[] some, CancellationToken cancellation)
    {
        var search = new GreatestNumber(pool, cancellation);
        some.CopyTo(search._housingOf, 0);
        for (var valve = 0; valve < some.Length; valve++)
            if (some[valve] >= 0) search._valveOf[some[valve]] = valve;
        search.Sweep();
        new Exchanges(pool, search._housingOf, search._valveOf, cancellation).Complete();
        return search._housingOf;
    }

    private bool ClassesMatter() => _pool.Housings.Class.Any(of => of != 0);

    private void Sweep()
    {
        var (housings, valves) = (_pool.Housings.Count, _pool.Valves.Count);
        var (byLow, lows) = Sorted(housings, _pool.HousingLow);
        var (byHigh, highs) = Sorted(housings, _pool.HousingHigh);
        var rankByHigh = new int[housings];
        for (var rank = 0; rank < housings; rank++) rankByHigh[byHigh[rank]] = rank;
        var (inOrder, _) = Sorted(valves, _pool.ValveLow);
        var open = new Dictionary<int, RankSet>();
        var next = 0;
        for (var turn = 0; turn < valves; turn++)
        {
            if ((turn & 0xFFF) == 0) _cancellation.ThrowIfCancellationRequested();
            var valve = inOrder[turn];
            for (; next < housings && lows[next] <= _pool.ValveLow(valve); next++)
                if (_valveOf[byLow[next]] < 0) OpenTo(_pool.Housings.Class[byLow[next]]).Add(rankByHigh[byLow[next]]);
            if (_housingOf[valve] >= 0) continue;
            var from = FirstAtOrAbove(highs, _pool.ValveHigh(valve));
            var of = _pool.Valves.Class[valve];
            if (of != 0 && Take(of, from, valve, byHigh)) continue;
            Take(0, from, valve, byHigh);
        }

        RankSet OpenTo(int of) => open.TryGetValue(of, out var set) ? set : open[of] = new RankSet(housings);

        bool Take(int of, int from, int valve, int[] byHigh)
        {
            if (!open.TryGetValue(of, out var set) || set.AtOrAbove(from) is not (>= 0 and var rank)) return false;
            set.Remove(rank);
            (_housingOf[valve], _valveOf[byHigh[rank]]) = (byHigh[rank], valve);
            return true;
        }
    }

    /// <summary>Places by a key, equal keys in the order of the places, and the keys in that order.</summary>
    private static (int[] Places, long[] Keys) Sorted(int count, Func<int, long> key)
    {
        var (places, keys) = (new int[count], new long[count]);
        for (var place = 0; place < count; place++) (places[place], keys[place]) = (place, key(place));
        SizeOrder.Sort(keys, places);
        return (places, keys);
    }

    private static int FirstAtOrAbove(long[] sorted, long key)
    {
        var (low, high) = (0, sorted.Length);
        while (low < high)
        {
            var middle = (low + high) >> 1;
            if (sorted[middle] < key) low = middle + 1;
            else high = middle;
        }
        return low;
    }
}
