namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>A pool whose guards and classes make no difference between its halves: points on a line.</summary>
/// <param name="Housings">Places in the pool of the line's bores; its spools are all the pool's valves.</param>
internal sealed record SingleLine(LineOrder Line, int[] Housings)
{
    /// <summary>
    /// The line, or null when guards differ within a side, or when valves of several classes meet housings with a class or jobs to be served first.
    /// </summary>
    public static SingleLine? Of(PairingPool pool, IReadOnlyList<ClassDemand> demands)
    {
        if (!Same(pool.Housings.Guard) || !Same(pool.Valves.Guard)) return null;
        if (Same(pool.Valves.Class)) return WithLeastGuards(pool);
        return demands.Count == 0 && pool.Housings.Class.AsSpan().IndexOfAnyExcept(0) < 0 ? WithLeastGuards(pool) : null;
    }

    /// <summary>The line if every half had the least guard of its side and classes did not matter but to housings that take none of the valves.</summary>
    public static SingleLine WithLeastGuards(PairingPool pool)
    {
        if (pool.Housings.Count == 0 || pool.Valves.Count == 0) return new(new([], pool.Valves.Size, 0, 0), []);
        var housings = All(pool.Housings.Count);
        if (pool.Housings.Class.AsSpan().IndexOfAnyExcept(0) >= 0)
        {
            HashSet<int> classes = [0, .. pool.Valves.Class];
            housings = Array.FindAll(housings, housing => classes.Contains(pool.Housings.Class[housing]));
        }
        var guards = pool.Housings.Guard.Min() + pool.Valves.Guard.Min();
        var bores = new long[housings.Length];
        for (var bore = 0; bore < bores.Length; bore++) bores[bore] = pool.Housings.Size[housings[bore]] - pool.Target;
        return new(new(bores, pool.Valves.Size, pool.Minimum + guards - pool.Target, pool.Maximum - guards - pool.Target), housings);
    }

    /// <returns>For each valve of the pool its housing or −1.</returns>
    public int[] Pair(CancellationToken cancellation)
    {
        var boreOf = LinePairing.Find(Line, CorridorSize.Usual, cancellation);
        for (var valve = 0; valve < boreOf.Length; valve++)
            if (boreOf[valve] >= 0) boreOf[valve] = Housings[boreOf[valve]];
        return boreOf;
    }

    private static int[] All(int count)
    {
        var all = new int[count];
        for (var place = 0; place < count; place++) all[place] = place;
        return all;
    }

    private static bool Same<T>(T[] values) where T : IEquatable<T> => values.Length == 0 || values.AsSpan().IndexOfAnyExcept(values[0]) < 0;
}
