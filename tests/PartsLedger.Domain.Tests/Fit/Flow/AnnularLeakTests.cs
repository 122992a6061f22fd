using CsCheck;
using PartsLedger.Domain.Fit.Flow;

namespace PartsLedger.Domain.Tests.Fit.Flow;

/// <summary>
/// Published values: the house's table of check values, section D. The formula is Rabie's eq. 2.19 (seen); the example is Fox and McDonald,
/// Introduction to Fluid Mechanics, Example 8.1, its inputs seen in FOSSEE/Scilab-TBC-Uploads 746/CH8/EX8.01 (title from memory) and its
/// answer recomputed: D 25 mm, gap 0.005 mm, L 15 mm, 20 to 1 MPa, µ 0.018 Pa·s, specific gravity 0.92.
/// </summary>
public sealed class AnnularLeakTests
{
    /// <summary>57.57 mm³/s = 3.454 mL/min, Re 0.0375 (the book prints 57.6, from memory).</summary>
    [Fact]
    public void The_piston_of_the_textbook_leaks_as_printed()
    {
        Assert.Equal(57.57, AnnularLeak.CubicMillimetresPerSecond(25, 0.005, 15, 19, 0.018, 0), 0.005);
        var leak = Textbook(diametralUm: 10, eccentricity: 0);
        Assert.Equal(3.454, leak.MillilitresPerMinute.Value, 0.0005);
        Assert.Equal(0.0375, leak.Reynolds, 0.00005);
        Assert.Empty(leak.Doubts);
    }

    /// <summary>At ε = 0.5 and 1: 79.16 and 143.93 mm³/s, computed with the factor 1 + 1.5 ε².</summary>
    [Theory]
    [InlineData(0.5, 79.16)]
    [InlineData(1, 143.93)]
    public void An_eccentric_spool_leaks_more(double eccentricity, double cubicMillimetresPerSecond) =>
        Assert.Equal(cubicMillimetresPerSecond, Textbook(10, eccentricity).MillilitresPerMinute.Value * 1000 / 60, 0.005);

    /// <summary>ε = 0.25, 0.5, 0.75, 1: 1.09375, 1.375, 1.84375, 2.5; computed as the mean of (1 + ε cos t)³ over the circle, and done so again here.</summary>
    [Theory]
    [InlineData(0.25, 1.09375)]
    [InlineData(0.5, 1.375)]
    [InlineData(0.75, 1.84375)]
    [InlineData(1, 2.5)]
    public void The_eccentric_factor(double eccentricity, double factor)
    {
        Assert.Equal(factor, Enumerable.Range(0, 360).Average(degree => Math.Pow(1 + (eccentricity * Math.Cos(degree * Math.PI / 180)), 3)), 1e-9);
        Assert.Equal(factor, AnnularLeak.CubicMillimetresPerSecond(16, 0.008, 12, 7, 0.027, eccentricity) / AnnularLeak.CubicMillimetresPerSecond(16, 0.008, 12, 7, 0.027, 0), 1e-12);
    }

    /// <summary>D 16 mm, L 12 mm, 7 MPa, µ 0.027 Pa·s, radial 4, 6, 8, 10 µm: 0.3475, 1.1729, 2.7801, 5.4299 mL/min (computed, no source).</summary>
    [Theory]
    [InlineData(4, 0.3475)]
    [InlineData(6, 1.1729)]
    [InlineData(8, 2.7801)]
    [InlineData(10, 5.4299)]
    public void Shop_sizes(double radialUm, double millilitresPerMinute) =>
        Assert.Equal(millilitresPerMinute, Shop(Band.Exactly(2 * radialUm), Band.Exactly(0)).MillilitresPerMinute.Value, 0.00005);

    /// <summary>The trap of section D: the diametral clearance put in for the radial one gives eight times the flow.</summary>
    [Fact]
    public void The_clearance_is_taken_as_diametral_and_halved()
    {
        var taken = Textbook(diametralUm: 10, eccentricity: 0).MillilitresPerMinute.Value;
        Assert.Equal(8, Textbook(diametralUm: 20, eccentricity: 0).MillilitresPerMinute.Value / taken, 1e-9);
        Assert.Equal(8, AnnularLeak.CubicMillimetresPerSecond(25, 0.010, 15, 19, 0.018, 0) * 60 / 1000 / taken, 1e-9);
    }

    [Fact]
    public void What_is_not_known_of_the_gap_is_in_the_band()
    {
        // 14 ± 1 µm and anywhere between the middle and the bore: from 13³ to 2.5 × 15³ against 14³ × 1.375.
        var leak = Shop(Band.PlusMinus(14, 1), Band.Between(0, 1)).MillilitresPerMinute;
        Assert.Equal(Math.Pow(13.0 / 14, 3) / 1.375, leak.Low / leak.Value, 1e-9);
        Assert.Equal(Math.Pow(15.0 / 14, 3) * 2.5 / 1.375, leak.High / leak.Value, 1e-9);
    }

    [Fact]
    public void The_share_of_the_idle_flow()
    {
        // 2.7801 mL/min of 10 L/min, give or take a tenth, by hand.
        var share = Shop(Band.Exactly(16), Band.Exactly(0)).ShareOf(Band.Percent(10, 10));
        Assert.Equal(0.00027801, share.Value, 5e-9);
        Assert.Equal(0.00027801 / 0.9, share.High, 5e-9);
    }

    [Fact]
    public void Beyond_its_limits_the_formula_says_so()
    {
        Assert.Contains(Leak(new(Band.Exactly(16), Band.Exactly(400), Band.Exactly(12), Band.Exactly(0)), 0.005).Doubts, doubt => doubt.Contains("laminar", StringComparison.Ordinal));
        var wide = Leak(new(Band.Exactly(16), Band.Exactly(330), Band.Exactly(8), Band.Exactly(0)), 0.5).Doubts;
        Assert.Contains(wide, doubt => doubt.Contains("thin", StringComparison.Ordinal));
        Assert.Contains(wide, doubt => doubt.Contains("short", StringComparison.Ordinal));
    }

    [Fact]
    public void A_gap_that_is_none_is_refused()
    {
        Assert.Equal("INPUT_NOT_POSITIVE", AnnularLeak.Of(Gap(Band.PlusMinus(1, 2), Band.Exactly(0)), Band.Exactly(7), Band.Exactly(0.027), 870).Refusal!.Code);
        Assert.Equal("ECCENTRICITY_RANGE", AnnularLeak.Of(Gap(Band.Exactly(14), Band.Exactly(1.1)), Band.Exactly(7), Band.Exactly(0.027), 870).Refusal!.Code);
    }

    [Fact]
    public void More_clearance_always_leaks_more() =>
        Gen.Select(Gen.Double[1, 40], Gen.Double[0.01, 5], Gen.Double[0, 1]).Sample((clearance, more, eccentricity) =>
            Assert.True(Shop(Band.Exactly(clearance + more), Band.Exactly(eccentricity)).MillilitresPerMinute.Value > Shop(Band.Exactly(clearance), Band.Exactly(eccentricity)).MillilitresPerMinute.Value));

    private static AnnularLeak Textbook(double diametralUm, double eccentricity) => AnnularLeak.Of(
        new(Band.Exactly(25), Band.Exactly(diametralUm), Band.Exactly(15), Band.Exactly(eccentricity)), Band.Exactly(19), Band.Exactly(0.018), 920).Result;

    private static AnnularLeak Shop(Band diametralUm, Band eccentricity) => Leak(Gap(diametralUm, eccentricity), 0.027);

    private static AnnularGap Gap(Band diametralUm, Band eccentricity) => new(Band.Exactly(16), diametralUm, Band.Exactly(12), eccentricity);

    private static AnnularLeak Leak(AnnularGap gap, double viscosity) => AnnularLeak.Of(gap, Band.Exactly(7), Band.Exactly(viscosity), 870).Result;
}
