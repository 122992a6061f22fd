using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Conformity;

/// <summary>The diametral clearances a family allows, and the one it is best at: min ≤ target ≤ max, min below max. May be below zero (an interference).</summary>
public sealed record ClearanceLimits
{
    private ClearanceLimits(Length min, Length target, Length max) => (Min, Target, Max) = (min, target, max);

    public Length Min { get; }
    public Length Target { get; }
    public Length Max { get; }

    public Length Tolerance => Max - Min;

    /// <summary>Refusal <c>CLEARANCE_LIMITS</c>.</summary>
    public static Outcome<ClearanceLimits> Of(Length min, Length target, Length max) =>
        min < max && min <= target && target <= max
            ? new ClearanceLimits(min, target, max)
            : new Refusal("CLEARANCE_LIMITS",
                $"Clearances of {MeasureText.Micrometres(min)} at least, {MeasureText.Micrometres(target)} at best and {MeasureText.Micrometres(max)} at most do not go together.",
                "Correct the family's clearances.");

    /// <summary>
    /// The fit of a hole's zone and a shaft's zone, each as deviations from one nominal size: the tightest is the smallest hole around the
    /// largest shaft, the loosest the reverse; the target is the middle, rounded down. This is the arithmetic of ISO 286-1.
    /// </summary>
    public static Outcome<ClearanceLimits> OfFit(Length holeLower, Length holeUpper, Length shaftLower, Length shaftUpper)
    {
        var (min, max) = (holeLower - shaftUpper, holeUpper - shaftLower);
        return Of(min, Length.FromNanometres(min.Nanometres + ((max - min).Nanometres / 2)), max);
    }
}
