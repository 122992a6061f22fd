namespace PartsLedger.Domain.Identification.Planning;

/// <summary>What a plan is expected to take: seconds first; at equal seconds fewer questions that open the pump, then fewer questions.</summary>
internal readonly record struct PlanCost(double Seconds, double Teardowns, double Looks)
{
    // Expected values are sums of quotients; what differs by less than this part of itself is equal.
    private const double Tolerance = 1e-9;

    public static PlanCost ToAsk(Feature feature) => new(feature.Seconds, feature.Teardown ? 1 : 0, 1);

    public PlanCost Plus(double share, PlanCost rest) =>
        new(Seconds + share * rest.Seconds, Teardowns + share * rest.Teardowns, Looks + share * rest.Looks);

    public int CompareTo(PlanCost other)
    {
        var order = Compare(Seconds, other.Seconds);
        if (order == 0) order = Compare(Teardowns, other.Teardowns);
        return order != 0 ? order : Compare(Looks, other.Looks);
    }

    private static int Compare(double left, double right) =>
        Math.Abs(left - right) <= Tolerance * Math.Max(1, Math.Max(left, right)) ? 0 : left.CompareTo(right);
}

/// <summary>What to do with a set: the place of the feature to ask, or none; and what that costs with everything after it.</summary>
internal readonly record struct PlanStep(int? Feature, PlanCost Cost)
{
    public static PlanStep End => default;

    /// <summary>Whether another step is better: cheaper, else it does not open the pump, else its feature comes first. No step is worst.</summary>
    public bool IsWorseThan(PlanStep other, IReadOnlyList<PlanFeature> features)
    {
        if (Feature is not { } mine || other.Feature is not { } others) return Feature is null;
        var order = Cost.CompareTo(other.Cost);
        if (order == 0) order = features[mine].Feature.Teardown.CompareTo(features[others].Feature.Teardown);
        return order != 0 ? order > 0 : mine > others;
    }
}
