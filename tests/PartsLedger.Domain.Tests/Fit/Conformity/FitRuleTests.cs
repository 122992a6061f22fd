using CsCheck;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Fit.Conformity;

public sealed class FitRuleTests
{
    private static readonly ClearanceLimits Limits = ClearanceLimits.Of(Nm(8_000), Nm(14_000), Nm(20_000)).Result;

    /// <summary>
    /// Fits of ISO 286: deviations in µm as in copies of ISO 286-1 (mechguru.com, deepri.com and the public file Ralul/TI-84 ISO-286.py; the
    /// standard was not opened), clearances computed from them (house's table of check values, section A).
    /// </summary>
    [Theory]
    [InlineData("16 H6/g5", 0, 11, -14, -6, 6, 25)]
    [InlineData("25 H6/g5", 0, 13, -16, -7, 7, 29)]
    [InlineData("16 H7/g6", 0, 18, -17, -6, 6, 35)]
    [InlineData("25 H7/g6", 0, 21, -20, -7, 7, 41)]
    [InlineData("16 H7/f7", 0, 18, -34, -16, 16, 52)]
    [InlineData("25 H7/f7", 0, 21, -41, -20, 20, 62)]
    [InlineData("16 H8/f7", 0, 27, -34, -16, 16, 61)]
    [InlineData("25 H8/f7", 0, 33, -41, -20, 20, 74)]
    [InlineData("16 H6/h5", 0, 11, -8, 0, 0, 19)]
    [InlineData("25 H6/h5", 0, 13, -9, 0, 0, 22)]
    [InlineData("16 H7/h6", 0, 18, -11, 0, 0, 29)]
    [InlineData("25 H7/h6", 0, 21, -13, 0, 0, 34)]
    public void The_clearances_of_a_standard_fit(string fit, int holeLower, int holeUpper, int shaftLower, int shaftUpper, int min, int max)
    {
        var limits = ClearanceLimits.OfFit(Nm(holeLower * 1000), Nm(holeUpper * 1000), Nm(shaftLower * 1000), Nm(shaftUpper * 1000)).Result;
        Assert.True((min * 1000, max * 1000) == (limits.Min.Nanometres, limits.Max.Nanometres), fit);

        // The ends are reached by the pieces they are the ends of, and a nanometre beyond them is out.
        var rule = new FitRule(limits);
        Assert.Equal(FitOutcome.Fits, rule.Judge(Sure(16_000_000 + (holeLower * 1000)), Sure(16_000_000 + (shaftUpper * 1000))).Outcome);
        Assert.Equal(FitOutcome.Fits, rule.Judge(Sure(16_000_000 + (holeUpper * 1000)), Sure(16_000_000 + (shaftLower * 1000))).Outcome);
        Assert.Equal(FitOutcome.DoesNotFit, rule.Judge(Sure(16_000_001 + (holeUpper * 1000)), Sure(16_000_000 + (shaftLower * 1000))).Outcome);
    }

    /// <summary>29 H7/h8: 29.000 to 29.021 and 28.967 to 29.000 mm, clearance 0 to 54 µm; published in the README of WaldekS710/isoFits after PN-EN ISO 286-1, and recomputed.</summary>
    [Fact]
    public void The_published_example_of_a_fit_at_29_mm()
    {
        var limits = ClearanceLimits.OfFit(Nm(0), Nm(21_000), Nm(-33_000), Nm(0)).Result;
        Assert.Equal((0L, 54_000L, 27_000L), (limits.Min.Nanometres, limits.Max.Nanometres, limits.Target.Nanometres));
    }

    /// <summary>By hand: forms 0.6 and 0.5 µm, U 0.6 and 0.7 µm; e is 0.9 and 0.95 µm, so 9.85 to 18.15 µm fits, and below 7.25 or above 20.75 does not.</summary>
    [Theory]
    [InlineData(9_850, FitOutcome.Fits)]
    [InlineData(9_849, FitOutcome.CannotTell)]
    [InlineData(18_150, FitOutcome.Fits)]
    [InlineData(18_151, FitOutcome.CannotTell)]
    [InlineData(7_250, FitOutcome.CannotTell)]
    [InlineData(7_249, FitOutcome.DoesNotFit)]
    [InlineData(20_750, FitOutcome.CannotTell)]
    [InlineData(20_751, FitOutcome.DoesNotFit)]
    public void Three_outcomes_by_hand(long clearance, FitOutcome outcome)
    {
        var judged = new FitRule(Limits).Judge(new(Nm(15_875_000 + clearance), Nm(600), Nm(600)), new(Nm(15_875_000), Nm(500), Nm(700)));
        Assert.Equal(outcome, judged.Outcome);
        Assert.Equal((clearance, clearance - 14_000), (judged.Clearance.Nanometres, judged.Deviation.Nanometres));
    }

    /// <summary>Form 1 nm and U 0: the guard is half a nanometre and must not be lost.</summary>
    [Fact]
    public void Half_a_nanometre_counts()
    {
        Assert.Equal(1, Guard.Of(Nm(1), Length.Zero).HalfNanometres);
        var rule = new FitRule(Limits);
        Assert.Equal(FitOutcome.DoesNotFit, rule.Judge(new(Nm(15_883_000), Nm(1), Length.Zero), Sure(15_875_000)).Outcome);
        Assert.Equal(FitOutcome.Fits, rule.Judge(new(Nm(15_883_001), Nm(1), Length.Zero), Sure(15_875_000)).Outcome);
    }

    /// <summary>By hand: form 1.0 µm and U 0.6 µm make e = 1.1 µm; half the factor leaves 0.8, none 0.5. A third of 1 nm is rounded up.</summary>
    [Theory]
    [InlineData("1", 1_000, 600, 2_200)]
    [InlineData("0.5", 1_000, 600, 1_600)]
    [InlineData("0", 1_000, 600, 1_000)]
    [InlineData("0.333", 0, 1, 1)]
    public void The_factor_scales_the_uncertainty_alone(string factor, long form, long uncertainty, long halfNanometres) =>
        Assert.Equal(halfNanometres, Guard.Of(Nm(form), Nm(uncertainty), GuardFactor.From(decimal.Parse(factor)).Result).HalfNanometres);

    [Theory]
    [InlineData("-0.1")]
    [InlineData("1.1")]
    [InlineData("0.1234")]
    public void A_factor_that_is_none_is_refused(string factor) =>
        Assert.Equal("GUARD_FACTOR_RANGE", GuardFactor.From(decimal.Parse(factor)).Refusal!.Code);

    [Fact]
    public void A_shop_that_chooses_nothing_has_the_full_guard() => Assert.Equal((1_000, GuardFactor.Full), (default(GuardFactor).Thousandths, default));

    [Fact]
    public void Limits_that_do_not_go_together_are_refused()
    {
        Assert.Equal("CLEARANCE_LIMITS", ClearanceLimits.Of(Nm(8), Nm(7), Nm(20)).Refusal!.Code);
        Assert.Equal("CLEARANCE_LIMITS", ClearanceLimits.Of(Nm(8), Nm(21), Nm(20)).Refusal!.Code);
        Assert.Equal("CLEARANCE_LIMITS", ClearanceLimits.Of(Nm(8), Nm(8), Nm(8)).Refusal!.Code);
    }

    [Fact]
    public void Forms_wider_than_the_tolerance_fit_nowhere()
    {
        var judged = new FitRule(Limits).Judge(new(Nm(15_889_000), Nm(7_000), Nm(50_000)), new(Nm(15_875_000), Nm(6_000), Nm(50_000)));
        Assert.Equal((FitOutcome.DoesNotFit, 0), (judged.Outcome, judged.Probability));
        Assert.Contains("forms", judged.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void The_sentence_says_which_way_and_how_likely()
    {
        var rule = new FitRule(Limits);
        Assert.Contains("too tight", rule.Judge(Sure(15_876_000), Sure(15_875_000)).Sentence, StringComparison.Ordinal);
        Assert.Contains("too loose", rule.Judge(Sure(15_899_000), Sure(15_875_000)).Sentence, StringComparison.Ordinal);
        var onTheLimit = rule.Judge(new(Nm(15_883_000), Length.Zero, Nm(600)), new(Nm(15_875_000), Length.Zero, Nm(800)));
        Assert.Equal(0.5, onTheLimit.Probability, 1e-9);
        Assert.Contains("a probability of 50 %", onTheLimit.Sentence, StringComparison.Ordinal);
    }

    /// <summary>u = √(0.6² + 0.8²)/2 µm = 0.5 µm, by hand: 1 µm inside the limit is Φ(2) = 0.9772.</summary>
    [Fact]
    public void The_probability_is_by_the_root_of_both_uncertainties()
    {
        var judged = new FitRule(Limits).Judge(new(Nm(15_884_000), Length.Zero, Nm(600)), new(Nm(15_875_000), Length.Zero, Nm(800)));
        Assert.Equal(0.9772, judged.Probability, 0.00005);
        Assert.Equal(FitOutcome.CannotTell, judged.Outcome);
    }

    [Fact]
    public void What_fits_is_at_least_as_likely_as_its_guard_says_and_what_does_not_is_unlikely() =>
        Gen.Select(Half, Half).Sample((housing, valve) =>
        {
            var judged = new FitRule(Limits).Judge(housing, valve);
            if (judged.Outcome == FitOutcome.Fits && housing.Uncertainty + valve.Uncertainty > Length.Zero) Assert.True(judged.Probability >= 0.9544);
            if (judged.Outcome == FitOutcome.DoesNotFit) Assert.True(judged.Probability <= 0.0228);
        }, iter: 5_000);

    [Fact]
    public void A_greater_form_uncertainty_or_factor_never_makes_a_pair_fit() =>
        Gen.Select(Half, Half, Gen.Long[0, 3_000], Gen.Long[0, 3_000], Gen.Int[0, 1_000]).Sample((housing, valve, form, uncertainty, thousandths) =>
        {
            var (weak, full) = (new FitRule(Limits, GuardFactor.From(thousandths / 1000m).Result), new FitRule(Limits));
            var worse = housing with { Form = housing.Form + Nm(form), Uncertainty = housing.Uncertainty + Nm(uncertainty) };
            if (weak.Judge(housing, valve).Outcome != FitOutcome.Fits) Assert.NotEqual(FitOutcome.Fits, full.Judge(housing, valve).Outcome);
            if (full.Judge(housing, valve).Outcome != FitOutcome.Fits) Assert.NotEqual(FitOutcome.Fits, full.Judge(worse, valve).Outcome);
            Assert.True(Guard.Of(housing.Form, housing.Uncertainty, weak.Factor).HalfNanometres <= Guard.Of(worse.Form, worse.Uncertainty, weak.Factor).HalfNanometres);
        }, iter: 5_000);

    [Fact]
    public void Without_a_guard_there_are_two_answers() =>
        Gen.Select(Half, Half).Sample((housing, valve) =>
            Assert.NotEqual(FitOutcome.CannotTell, new FitRule(Limits, GuardFactor.None).Judge(housing, valve).Outcome), iter: 2_000);

    [Fact]
    public void A_form_below_zero_is_a_bug() => Assert.Throws<ArgumentOutOfRangeException>(() => Guard.Of(Nm(-1), Nm(1)));

    private static Gen<MeasuredHalf> Half { get; } = Gen.Select(Gen.Long[15_875_000, 15_900_000], Gen.Long[0, 3_000], Gen.Long[0, 4_000])
        .Select((size, form, uncertainty) => new MeasuredHalf(Nm(size), Nm(form), Nm(uncertainty)));

    private static MeasuredHalf Sure(long size) => new(Nm(size), Length.Zero, Length.Zero);

    private static Length Nm(long nanometres) => Length.FromNanometres(nanometres);
}
