namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Which housings without a class are kept for a class. The class chooses as if it were alone, one reserve after the other: the housings
/// its own valves would be given (the greatest number up to the reserve, then the least deviation), then, if its valves need fewer, those
/// that fit the fewest valves of other classes, by the caller's order among equals. From then on they are housings of that class.
/// </summary>
/// <remarks>
/// The choice is by this rule and not part of what is optimised: it must be clear at the shelf which ones are kept and why. All that
/// follows is exact for the housings so chosen.
/// </remarks>
internal static class ReservedHousings
{
    public static List<(int Housing, int Class)> Choose(PairingQuestion question, KeptPairs kept, CancellationToken cancellation)
    {
        var chosen = new List<(int, int)>();
        foreach (var reserve in question.Problem.Reserve)
            foreach (var housing in Choose(question, reserve, kept, cancellation))
            {
                question.HousingClass[housing] = reserve.Class;
                chosen.Add((housing, reserve.Class));
            }
        return chosen;
    }

    private static int[] Choose(PairingQuestion question, ClassReserve reserve, KeptPairs kept, CancellationToken cancellation)
    {
        bool[] notForIt = [.. kept.HousingTaken.Select((taken, place) => taken || question.HousingClass[place] != 0)];
        bool[] others = [.. kept.ValveTaken.Select((taken, place) => taken || question.ValveClass[place] != reserve.Class)];
        var alone = new PairingPool(question, notForIt, others);
        var wanted = Math.Min(reserve.Housings, alone.Housings.Count);
        var (greatest, _) = GreatestNumber.Find(alone, [], cancellation);
        var pairs = Math.Min(wanted, greatest.Count(housing => housing >= 0));
        var housingOf = Matching.OfSize(alone, greatest, pairs, cancellation);
        int[] first = [.. housingOf.Where(housing => housing >= 0).Select(housing => alone.Housings.Original[housing])];
        if (first.Length >= wanted) return [.. first.Order()];

        bool[] its = [.. kept.ValveTaken.Select((taken, place) => taken || question.ValveClass[place] == reserve.Class)];
        var rest = new PairingPool(question, notForIt, its);
        var fits = FitCount.PerHousing(rest);
        return [.. first.Order(), .. Enumerable.Range(0, rest.Housings.Count).OrderBy(housing => fits[housing])
            .ThenBy(housing => rest.Housings.Original[housing]).Select(housing => rest.Housings.Original[housing])
            .Except(first).Take(wanted - first.Length)];
    }
}
