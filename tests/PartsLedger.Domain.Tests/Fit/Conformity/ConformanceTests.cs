using CsCheck;
using PartsLedger.Domain.Fit.Conformity;

namespace PartsLedger.Domain.Tests.Fit.Conformity;

/// <summary>Published values: the house's table of check values, section C; JCGM 106:2012 itself was not opened, its example's inputs were seen in a public script.</summary>
public sealed class ConformanceTests
{
    /// <summary>The resistor of JCGM 106, in ohm: tolerance 1499.8 to 1500.2, process mean 1500 and deviation 0.12, u 0.04.</summary>
    private static readonly GuardBand Resistor = new(1499.8, 1500.2, 1500, 0.12, 0.04);

    /// <summary>Process conformance 0.9044, "about 90 %": computed, Φ(0.2/0.12) − Φ(−0.2/0.12).</summary>
    [Fact]
    public void Process_conformance_of_the_resistors() => Assert.Equal(0.9044, Resistor.ProcessConformance, 0.00005);

    /// <summary>
    /// Accepted from 1499.82 to 1500.18: consumer's risk 0.00988 and producer's 0.0690 (computed; published "1 %" and "7 %" from memory). Accepted
    /// at the tolerance: 0.01894 and 0.03721 (computed).
    /// </summary>
    [Theory]
    [InlineData(1499.82, 1500.18, 0.00988, 0.0690)]
    [InlineData(1499.8, 1500.2, 0.01894, 0.03721)]
    public void Global_risks_of_the_resistors(double from, double to, double consumers, double producers)
    {
        var risks = Resistor.Risks(from, to);
        Assert.Equal(consumers, risks.Consumers, 0.000005);
        Assert.Equal(producers, risks.Producers, producers == 0.0690 ? 0.00005 : 0.000005);
    }

    /// <summary>With the estimate on one limit and the other far away the probability is one half (computed).</summary>
    [Fact]
    public void On_a_limit_the_probability_is_one_half()
    {
        Assert.Equal(0.5, Conformance.Probability(18, 0, 18, 0.8), 1e-12);
        Assert.Equal(0.5, Conformance.Probability(0, 0, 18, 0.8), 1e-12);
    }

    /// <summary>A guard band of 1.65 u at one limit gives 0.9505, of U = 2 u 0.9772 (computed, Φ(1.65) and Φ(2)). 1.65 for 95 % is ISO 14253-1's, from memory.</summary>
    [Theory]
    [InlineData(1.65, 0.9505)]
    [InlineData(2, 0.9772)]
    public void A_guard_band_at_one_limit(double guard, double probability) =>
        Assert.Equal(probability, Conformance.Probability(-guard, double.NegativeInfinity, 0, 1), 0.00005);

    /// <summary>
    /// A 16 H7 bore, 0 to +18 µm, measured with u 0.8 µm at +17.0 µm conforms with 0.8944, and with 0.95 at 1.316 µm inside its limit
    /// (computed, Φ((18 − y)/0.8) − Φ((0 − y)/0.8)).
    /// </summary>
    [Theory]
    [InlineData(17.0, 0.8944, 0.00005)]
    [InlineData(18 - 1.316, 0.95, 0.00005)]
    public void A_bore_near_its_upper_limit(double measured, double probability, double within) =>
        Assert.Equal(probability, Conformance.Probability(measured, 0, 18, 0.8), within);

    [Fact]
    public void Without_uncertainty_it_conforms_or_it_does_not()
    {
        Assert.Equal(1, Conformance.Probability(18, 0, 18, 0));
        Assert.Equal(0, Conformance.Probability(18.001, 0, 18, 0));
    }

    [Fact]
    public void The_probability_falls_as_the_estimate_leaves_the_middle() =>
        Gen.Select(Gen.Double[0, 30], Gen.Double[0, 5], Gen.Double[0.01, 5]).Sample((off, further, u) =>
            Assert.True(Conformance.Probability(10 + off + further, 0, 20, u) <= Conformance.Probability(10 + off, 0, 20, u) + 1e-14));

    [Fact]
    public void A_wider_guard_lowers_the_consumers_risk_and_raises_the_producers()
    {
        var choices = Resistor.Choices(GuardFactor.None, GuardFactor.From(0.25m).Result, GuardFactor.From(0.5m).Result, GuardFactor.Full);
        Assert.Equal((0.01894, 0.03721), (Math.Round(choices[0].ConsumersRisk, 5), Math.Round(choices[0].ProducersRisk, 5)));

        // A quarter of U = 0.08 is the guard of 0.02 in the example.
        Assert.Equal(0.00988, choices[1].ConsumersRisk, 0.000005);
        for (var at = 1; at < choices.Count; at++)
        {
            Assert.True(choices[at].ConsumersRisk < choices[at - 1].ConsumersRisk);
            Assert.True(choices[at].ProducersRisk > choices[at - 1].ProducersRisk);
        }
    }

    [Fact]
    public void A_guard_that_leaves_nothing_accepts_nothing() =>
        Assert.Equal((0, Resistor.ProcessConformance), Resistor.Risks(1500.1, 1499.9));

    /// <summary>The risks and the accepted share add up: accepted = conforming − producer's + consumer's, here for a process off its middle.</summary>
    [Fact]
    public void The_risks_add_up_to_what_is_accepted() =>
        Gen.Select(Gen.Double[-10, 10], Gen.Double[0.2, 10], Gen.Double[0.05, 5], Gen.Double[-2, 4]).Sample((mean, deviation, u, guard) =>
        {
            var band = new GuardBand(-8, 8, mean, deviation, u);
            var (consumers, producers) = band.Risks(-8 + guard, 8 - guard);
            var accepted = Conformance.Probability(mean, -8 + guard, 8 - guard, double.Hypot(deviation, u));
            Assert.Equal(accepted, band.ProcessConformance - producers + consumers, 1e-7);
        });
}
