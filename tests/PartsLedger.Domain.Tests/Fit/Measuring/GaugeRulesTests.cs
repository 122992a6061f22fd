using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Fit.Measuring;

public sealed class GaugeRulesTests
{
    private static readonly DateOnly Today = new(2031, 6, 15);
    private static readonly Gauge Good = new("AG-7", Um(1), new DateOnly(2031, 1, 1), new DateOnly(2032, 1, 1));

    [Theory]
    [InlineData(3.0, null, null)]
    [InlineData(3.001, null, "GAUGE_COARSE")]
    [InlineData(12.0, null, "GAUGE_COARSE")]
    [InlineData(12.001, "GAUGE_TOO_COARSE", null)]
    [InlineData(0, "GAUGE_UNCERTAINTY", null)]
    public void A_gauge_is_held_to_four_to_one_and_to_one_to_one(double uncertaintyUm, string? refused, string? warned)
    {
        var verdict = GaugeRules.Judge(Good with { Uncertainty = Um(uncertaintyUm) }, Um(12), GaugeUse.Release, Today);
        Assert.Equal(refused, verdict.Refused?.Code);
        Assert.Equal(warned, verdict.Warnings.SingleOrDefault()?.Code);
    }

    [Theory]
    [InlineData("2031-07-16", GaugeUse.Release, null, null)]
    [InlineData("2031-07-15", GaugeUse.Release, null, "GAUGE_DUE_SOON")]
    [InlineData("2031-06-15", GaugeUse.Release, null, "GAUGE_DUE_SOON")]
    [InlineData("2031-06-14", GaugeUse.Release, "GAUGE_OVERDUE", null)]
    [InlineData("2031-06-14", GaugeUse.Sorting, null, "GAUGE_OVERDUE")]
    public void An_overdue_gauge_is_warned_about_and_releases_nothing(string due, GaugeUse use, string? refused, string? warned)
    {
        var verdict = GaugeRules.Judge(Good with { DueOn = DateOnly.Parse(due, System.Globalization.CultureInfo.InvariantCulture) }, Um(12), use, Today);
        Assert.Equal(refused, verdict.Refused?.Code);
        Assert.Equal(warned, verdict.Warnings.SingleOrDefault()?.Code);
    }

    [Fact]
    public void A_calibration_nobody_knows_is_warned_about()
    {
        foreach (var gauge in new[] { Good with { DueOn = null }, Good with { CalibratedOn = null }, Good with { CalibratedOn = Today.AddDays(1) } })
        {
            var verdict = GaugeRules.Judge(gauge, Um(12), GaugeUse.Release, Today);
            Assert.Null(verdict.Refused);
            Assert.Equal("GAUGE_CALIBRATION_UNKNOWN", verdict.Warnings.Single().Code);
        }
    }

    [Fact]
    public void A_tolerance_of_nothing_is_refused() =>
        Assert.Equal("TOLERANCE_EMPTY", GaugeRules.Judge(Good, Length.Zero, GaugeUse.Sorting, Today).Refused!.Code);

    /// <summary>3, 4, 5: at exactly √(3² + 4²) they agree, a nanometre beyond they do not.</summary>
    [Theory]
    [InlineData(5_000, true)]
    [InlineData(-5_000, true)]
    [InlineData(5_001, false)]
    [InlineData(-5_001, false)]
    [InlineData(0, true)]
    public void Two_people_agree_within_their_combined_uncertainty(long difference, bool agree)
    {
        var repeat = Repeatability.Of(Um(15_875), Um(3), Um(15_875) + Length.FromNanometres(difference), Um(4)).Result;
        Assert.Equal(agree, repeat.Agree);
        Assert.Equal(difference, repeat.Difference.Nanometres);
        Assert.Equal(Math.Abs(difference) / 5_000.0, repeat.EnNumber, 12);
    }

    [Fact]
    public void Without_an_uncertainty_nothing_can_be_compared() =>
        Assert.Equal("GAUGE_UNCERTAINTY", Repeatability.Of(Um(15_875), Length.Zero, Um(15_875), Um(1)).Refusal!.Code);

    /// <summary>
    /// GUM (JCGM 100) H.1, as copied in the documentation of a public uncertainty library (MSLNZ/GTC, docs/API/GUM_H1.rst, read whole and
    /// recomputed): 25, 5.8, 3.9, 6.7, 2.887 and 16.599 nm combine to 31.66 nm, published 32. Combining the first two only, then their
    /// comparison with zero, is the same root of squares as between two gauges.
    /// </summary>
    [Fact]
    public void Uncertainties_combine_by_the_root_of_their_squares()
    {
        var parts = new[] { 25, 5.8, 3.9, 6.7, 2.887, 16.599 };
        Assert.Equal(31.66, parts.Aggregate(0.0, double.Hypot), 0.005);
        long[] picometres = [25_000, 5_800, 3_900, 6_700, 2_887, 16_599];
        var rest = Length.FromNanometres((long)picometres[1..].Aggregate(0.0, (sum, part) => double.Hypot(sum, part)));
        var repeat = Repeatability.Of(Length.Zero, Length.FromNanometres(picometres[0]), Length.FromNanometres(31_660), rest).Result;
        Assert.Equal(1.0, repeat.EnNumber, 0.0005);
    }

    private static Length Um(double micrometres) => Length.FromNanometres((long)Math.Round(micrometres * 1000));
}
