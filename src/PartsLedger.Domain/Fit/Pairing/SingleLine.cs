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
        if (pool.Housings.Count == 0 || pool.Valves.Count == 0) return new(new([], [.. pool.Valves.Size], 0, 0), []);
        int[]? housings = null;
        if (Same(pool.Valves.Class))
        {
            var of = pool.Valves.Class[0];
            housings = Array.FindAll(All(pool.Housings.Count), housing => pool.Housings.Class[housing] == 0 || pool.Housings.Class[housing] == of);
        }
        else if (demands.Count == 0 && pool.Housings.Class.AsSpan().IndexOfAnyExcept(0) < 0) housings = All(pool.Housings.Count);
        if (housings is null) return null;
        var guards = pool.Housings.Guard[0] + pool.Valves.Guard[0];
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
