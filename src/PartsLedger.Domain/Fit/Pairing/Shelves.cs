namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Where valves without a housing lie.</summary>
/// <param name="Of">Each valve's shelf.</param>
/// <param name="Room">How many valves each shelf holds.</param>
internal sealed record Shelves(int[] Of, int[] Room)
{
    /// <summary>One shelf for all, with just so much room.</summary>
    public static Shelves One(int valves, int room) => new(new int[valves], [room]);

    /// <summary>A shelf for each class that must keep a number of pairs, with room for the others of that class; one shelf for the rest.</summary>
    /// <param name="leastPairs">By class; no class can have more pairs than valves.</param>
    public static Shelves Keeping(PoolSide valves, IReadOnlyDictionary<int, int> leastPairs)
    {
        var shelfOf = new Dictionary<int, int>();
        var room = new List<int> { valves.Count };
        foreach (var (of, pairs) in leastPairs)
        {
            shelfOf[of] = room.Count;
            room.Add(valves.Class.Count(other => other == of) - pairs);
        }
        return new([.. valves.Class.Select(of => shelfOf.GetValueOrDefault(of))], [.. room]);
    }
}
