namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Halves that pairing left over, and what may be done to the bores. Lengths in nm, as in <see cref="PairingProblem"/>.</summary>
/// <param name="Housings">Left over, at most <see cref="PairingLimits.ExactSide"/>; in the order that breaks ties.</param>
/// <param name="Valves">Left over, at most <see cref="PairingLimits.ExactSide"/>.</param>
/// <param name="Steps">What may be done to a bore, each at most once and only one of them to a bore.</param>
public sealed record HoningProblem(
    IReadOnlyList<LooseHalf> Housings, IReadOnlyList<LooseHalf> Valves, long Minimum, long Target, long Maximum, IReadOnlyList<HoningStep> Steps);

/// <summary>One way to hone a bore.</summary>
/// <param name="Enlarges">By how much in all, nm; above zero.</param>
/// <param name="Cost">What it costs in all, in any unit (money or minutes); from zero to 10¹².</param>
public readonly record struct HoningStep(long Enlarges, long Cost)
{
    public const long GreatestCost = 1_000_000_000_000;

    /// <summary>Steps of one size, one to as many as stay within the limit, each with the same cost.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A length is not above zero or a cost is below zero.</exception>
    public static IReadOnlyList<HoningStep> Every(long step, long limit, long costPerStep)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(step);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(limit);
        ArgumentOutOfRangeException.ThrowIfNegative(costPerStep);
        var steps = new List<HoningStep>();
        for (var times = 1L; times <= limit / step; times++) steps.Add(new(times * step, times * costPerStep));
        return steps;
    }
}

/// <summary>What honing would buy.</summary>
/// <param name="Pairs">The pairs of the plan, in the order of the housings.</param>
/// <param name="LeastCost">
/// The least that so many further pairs cost: the first number is for one pair, the last for the greatest number there can be. Each
/// further pair costs at least as much as the one before, so the shop can stop where the next is not worth its cost.
/// </param>
public sealed record HoningPlan(IReadOnlyList<HonedPair> Pairs, IReadOnlyList<long> LeastCost)
{
    public long Cost => Pairs.Sum(pair => pair.Step.Cost);
}

/// <param name="Housing">0-based place in <see cref="HoningProblem.Housings"/>.</param>
/// <param name="Valve">0-based place in <see cref="HoningProblem.Valves"/>.</param>
/// <param name="Step">What is done to the bore.</param>
/// <param name="Clearance">Clearance once honed, nm; the bore must be measured again before it is believed.</param>
public readonly record struct HonedPair(int Housing, int Valve, HoningStep Step, long Clearance, long Deviation);
