namespace PartsLedger.Domain.Fit.Conformity;

/// <summary>
/// Probability of conformity after JCGM 106:2012, section 7, for a normally distributed error of measurement and nothing known beforehand:
/// p = Φ((upper − y)/u) − Φ((lower − y)/u). Any one unit for all four.
/// </summary>
public static class Conformance
{
    /// <param name="measured">y, the estimate.</param>
    /// <param name="lower">Lower limit, or negative infinity.</param>
    /// <param name="upper">Upper limit, not below the lower, or infinity.</param>
    /// <param name="standardUncertainty">u, zero or more; with 0 the answer is 0 or 1, a limit itself being inside.</param>
    public static double Probability(double measured, double lower, double upper, double standardUncertainty)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(standardUncertainty);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(lower, upper);
        if (standardUncertainty == 0) return measured >= lower && measured <= upper ? 1 : 0;

        // Towards the tail that is short, so that a small probability keeps its digits.
        var (below, above) = ((lower - measured) / standardUncertainty, (upper - measured) / standardUncertainty);
        return below > 0
            ? NormalDistribution.Cumulative(-below) - NormalDistribution.Cumulative(-above)
            : NormalDistribution.Cumulative(above) - NormalDistribution.Cumulative(below);
    }

    /// <summary>The guard band, in units of u, at one limit that the estimate must keep for this probability when the other limit is far: Φ⁻¹(p).</summary>
    public static double GuardBandFor(double probability) => NormalDistribution.Quantile(probability);
}
