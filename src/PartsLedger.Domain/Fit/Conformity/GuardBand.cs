namespace PartsLedger.Domain.Fit.Conformity;

/// <summary>What a choice of guard factor costs, for the shop to choose by.</summary>
/// <param name="ConsumersRisk">Probability that a pair taken at random is out of its limits and is accepted.</param>
/// <param name="ProducersRisk">Probability that a pair taken at random is within its limits and is not accepted.</param>
public sealed record GuardBandChoice(GuardFactor Factor, double ConsumersRisk, double ProducersRisk);

/// <summary>
/// Global risks after JCGM 106:2012, section 9.5, for normally distributed clearances and a normally distributed error of measurement
/// (they say what happens over many pairs; of one measured pair <see cref="Conformance"/> tells). Any one unit for all.
/// </summary>
/// <param name="LowerLimit">Of the tolerance.</param>
/// <param name="UpperLimit">Of the tolerance; above the lower.</param>
/// <param name="ProcessMean">Mean of the true values.</param>
/// <param name="ProcessDeviation">Standard deviation of the true values; above zero.</param>
/// <param name="StandardUncertainty">u of one measurement; above zero.</param>
public sealed record GuardBand(double LowerLimit, double UpperLimit, double ProcessMean, double ProcessDeviation, double StandardUncertainty)
{
    /// <summary>True values further from their mean than this do not happen (Φ(−9) is 1e-19).</summary>
    private const double Reach = 9;

    /// <summary>Even; the pieces are at most nine standard deviations wide, so that Simpson's error is below 1e-9.</summary>
    private const int StepsPerPiece = 400;

    /// <summary>Probability that a pair is within its limits, whatever is measured.</summary>
    public double ProcessConformance => Conformance.Probability(ProcessMean, LowerLimit, UpperLimit, ProcessDeviation);

    /// <summary>Risks when a measured value is accepted from <paramref name="acceptLower"/> to <paramref name="acceptUpper"/>.</summary>
    public (double Consumers, double Producers) Risks(double acceptLower, double acceptUpper)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ProcessDeviation);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(StandardUncertainty);

        // An acceptance zone of nothing accepts nothing.
        if (acceptLower >= acceptUpper) return (0, ProcessConformance);
        var (least, most) = (ProcessMean - (Reach * ProcessDeviation), ProcessMean + (Reach * ProcessDeviation));

        // The integrand is smooth within the uncertainty of an acceptance limit and the deviation of the process: the pieces end there.
        double[] knees = [acceptLower, acceptUpper];
        double[] breaks = [LowerLimit, UpperLimit, ProcessMean, .. knees.SelectMany(knee => new[] { knee - (Reach * StandardUncertainty), knee, knee + (Reach * StandardUncertainty) })];
        double[] ends = [least, .. breaks.Where(end => end > least && end < most).Order(), most];

        double consumers = 0, producers = 0;
        for (var piece = 1; piece < ends.Length; piece++)
        {
            var (from, to) = (ends[piece - 1], ends[piece]);
            if (from >= to) continue;
            if ((from + to) / 2 is var middle && middle > LowerLimit && middle < UpperLimit) producers += Integral(from, to, value => Density(value) * (1 - Accepted(value)));
            else consumers += Integral(from, to, value => Density(value) * Accepted(value));
        }
        return (consumers, producers);

        double Density(double value) => NormalDistribution.Density((value - ProcessMean) / ProcessDeviation) / ProcessDeviation;
        double Accepted(double value) => Conformance.Probability(value, acceptLower, acceptUpper, StandardUncertainty);
    }

    /// <summary>The risks with a guard of g U at either limit, U = 2 u, for each factor.</summary>
    public IReadOnlyList<GuardBandChoice> Choices(params IEnumerable<GuardFactor> factors) =>
        [.. factors.Select(factor =>
        {
            var guard = 2 * StandardUncertainty * factor.Thousandths / GuardFactor.Whole;
            var (consumers, producers) = Risks(LowerLimit + guard, UpperLimit - guard);
            return new GuardBandChoice(factor, consumers, producers);
        })];

    /// <summary>Simpson's rule.</summary>
    private static double Integral(double from, double to, Func<double, double> integrand)
    {
        var step = (to - from) / StepsPerPiece;
        var sum = integrand(from) + integrand(to);
        for (var at = 1; at < StepsPerPiece; at++) sum += integrand(from + (at * step)) * (at % 2 == 1 ? 4 : 2);
        return sum * step / 3;
    }
}
