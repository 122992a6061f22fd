using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Testing;

namespace PartsLedger.Domain.Tests.Testing;

public sealed class BenchJudgementTests
{
    private static readonly ClassLimits Own = new("P055", Kpa(5500), Kpa(200), Kpa(300));
    private static readonly ClassLimits Other = new("P070", Kpa(7000), Kpa(250), Kpa(350));
    private static readonly ExpectedFlow[] Expected = [new(700, 19, 17, 20.7), new(2000, 50, 0, 59)];

    [Theory]
    [InlineData(5300, BenchVerdict.Passed)]
    [InlineData(5800, BenchVerdict.Passed)]
    [InlineData(5299, BenchVerdict.Failed)]
    [InlineData(5801, BenchVerdict.Failed)]
    [InlineData(6750, BenchVerdict.WrongClass)]
    [InlineData(7350, BenchVerdict.WrongClass)]
    [InlineData(7351, BenchVerdict.Failed)]
    public void The_relief_lies_within_the_class_ends_included(int kilopascals, BenchVerdict verdict) =>
        Assert.Equal(verdict, Judge(Kpa(kilopascals)).Verdict);

    [Fact]
    public void A_wrong_class_is_told_before_anything_else()
    {
        var judged = Judge(Kpa(7000), flow: 3, leak: 5, rejected: "noise");
        Assert.Equal((BenchVerdict.WrongClass, "P070"), (judged.Verdict, judged.Shown));
        Assert.Single(judged.Reasons);
    }

    [Fact]
    public void Every_reason_is_told()
    {
        var judged = Judge(Kpa(5000), flow: 16.9m, leak: 5, rejected: "it whines");
        Assert.Equal(BenchVerdict.Failed, judged.Verdict);
        Assert.Equal(4, judged.Reasons.Count);
        Assert.Contains("5300 to 5800 kPa", judged.Reasons[0], StringComparison.Ordinal);
        Assert.Equal("it whines", judged.Reasons[3]);
    }

    /// <summary>A class whose limits overlap with the pump's own is not shown by what lies in both.</summary>
    [Fact]
    public void What_lies_in_both_classes_is_the_pumps_own() =>
        Assert.Equal(BenchVerdict.Passed, BenchJudgement.Of(Own, [new("P058", Kpa(5800), Kpa(100), Kpa(100))], Kpa(5750), [], [],
            Volume.Zero, null).Verdict);

    [Fact]
    public void Without_the_valves_figures_only_the_lowest_speed_has_a_least_flow()
    {
        var expected = BenchExpectation.At([2000, 700], Volume.FromMicrolitres(29_600), Band.Between(100, 300, 200), null);
        Assert.Equal([700, 2000], expected.Select(point => (int)point.RevolutionsPerMinute));

        // 29.6 cc × 700 = 20.72 l/min; 85 percent less 0.3 l/min of leak.
        Assert.Equal(20.72, expected[0].High, 9);
        Assert.Equal((20.72 * 0.85) - 0.3, expected[0].Low, 9);
        Assert.Equal(0, expected[1].Low);
        Assert.Equal(59.2, expected[1].High, 9);
        Assert.Empty(BenchExpectation.At([700, 2000], null, null, null));
    }

    private static BenchJudgement Judge(Pressure relief, decimal flow = 19, long leak = 0, string? rejected = null) =>
        BenchJudgement.Of(Own, [Other], relief, [new(700, flow), new(2000, 15)], Expected, Volume.FromMicrolitres(leak * 1000), rejected);

    private static Pressure Kpa(long kilopascals) => Pressure.FromPascals(kilopascals * 1000);
}
