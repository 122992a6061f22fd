namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Refuses a problem that is none, with the number that is wrong.</summary>
internal static class PairingCheck
{
    /// <exception cref="ArgumentException">A number or an index is out of its range.</exception>
    public static void Problem(PairingProblem problem)
    {
        Window(problem.Minimum, problem.Target, problem.Maximum);
        var (housings, valves) = (new HashSet<int>(), new HashSet<int>());
        foreach (var (housing, valve) in problem.KeepTogether)
        {
            Require(housing >= 0 && housing < problem.Housings.Count, $"A pair to keep together names housing {housing}, which is not in the list.");
            Require(valve >= 0 && valve < problem.Valves.Count, $"A pair to keep together names valve {valve}, which is not in the list.");
            Require(housings.Add(housing), $"Housing {housing} is in two pairs to keep together.");
            Require(valves.Add(valve), $"Valve {valve} is in two pairs to keep together.");
        }
        foreach (var demand in problem.ServeFirst) Require(demand.Pairs >= 0, $"A job wants {demand.Pairs} pairs.");
        foreach (var reserve in problem.Reserve)
        {
            Require(reserve.Housings >= 0, $"{reserve.Housings} housings shall be kept for class {reserve.Class}.");
            Require(reserve.Class != 0, "Housings can be kept for a class only, and 0 is none.");
        }
    }

    public static void Window(long minimum, long target, long maximum)
    {
        Require(WithinLimit(minimum) && WithinLimit(maximum), "A clearance is beyond the limit.");
        Require(minimum <= target && target <= maximum, $"The target clearance {target} nm is not between {minimum} nm and {maximum} nm.");
    }

    public static void Halves(LooseHalf[] halves, string name)
    {
        for (var place = 0; place < halves.Length; place++)
        {
            var half = halves[place];
            if (!WithinLimit(half.Size)) throw new ArgumentException($"The size {half.Size} nm of {name} {place} is beyond the limit.");
            if (half.Guard < 0 || !WithinLimit(half.Guard)) throw new ArgumentException($"The guard {half.Guard} nm of {name} {place} is out of its range.");
        }
    }

    public static void Require(bool holds, string sentence)
    {
        if (!holds) throw new ArgumentException(sentence);
    }

    private static bool WithinLimit(long length) => length is >= -PairingLimits.Length and <= PairingLimits.Length;
}
