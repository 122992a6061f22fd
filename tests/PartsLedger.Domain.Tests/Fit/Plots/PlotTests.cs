using CsCheck;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Fit.Plots;

public sealed class PlotTests
{
    private static readonly Length Bore = Nm(15_875_000);
    private static readonly ClearanceLimits Limits = ClearanceLimits.Of(Nm(8_000), Nm(14_000), Nm(20_000)).Result;

    [Fact]
    public void The_fit_plot_shows_every_unit_and_pair_in_its_own_shape()
    {
        PlottedUnit[] housings = [new("H-1", Nm(15_880_000)), new("H-2", Nm(15_884_000)), new("H-3", Nm(15_889_000))];
        PlottedUnit[] valves = [new("V-1", Nm(15_866_000)), new("V-2", Nm(15_876_500))];
        var root = SvgChecks.Sound(FitPlot.Draw("fit", "VS30 at 9 MPa", Bore, Limits, housings, valves,
            [new(housings[0], valves[0], FitOutcome.Fits), new(housings[1], valves[1], FitOutcome.CannotTell), new(housings[2], valves[0], FitOutcome.DoesNotFit)]));
        Assert.Equal((1, 1, 1), (SvgChecks.Marks(root, "fits"), SvgChecks.Marks(root, "cannot-tell"), SvgChecks.Marks(root, "does-not-fit")));
        Assert.Equal((3, 2), (SvgChecks.Marks(root, "housing"), SvgChecks.Marks(root, "valve")));
        Assert.Contains("limits 8 and 20 µm", SvgChecks.Texts(root));
        Assert.Contains("H-1 with V-1: 14 µm", root.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void No_two_series_have_the_same_shape()
    {
        // All units paired and told: housings, valves and pairs are filled, and still differ.
        PlottedUnit housing = new("H-1", Nm(15_880_000)), valve = new("V-1", Nm(15_866_000));
        SvgChecks.SeriesDifferByShape(SvgChecks.Sound(FitPlot.Draw("fit", "t", Bore, Limits, [housing], [valve],
            [new(housing, valve, FitOutcome.Fits), new(housing, valve, FitOutcome.CannotTell), new(housing, valve, FitOutcome.DoesNotFit)])));
        SvgChecks.SeriesDifferByShape(SvgChecks.Sound(FlowCurve.Draw("flow", "t", Curve, [new(1_000, 8), new(2_000, 2), new(9_000, 8)])));
    }

    [Fact]
    public void One_side_empty_or_both_is_drawn_and_said()
    {
        Assert.Contains("No measured valve.", SvgChecks.Texts(SvgChecks.Sound(FitPlot.Draw("a", "t", Bore, Limits, [new("H-1", Bore)], [], []))));
        Assert.Contains("No measured housing.", SvgChecks.Texts(SvgChecks.Sound(FitPlot.Draw("a", "t", Bore, Limits, [], [new("V-1", Bore)], []))));
        Assert.Contains("No measured housing.", SvgChecks.Texts(SvgChecks.Sound(FitPlot.Draw("a", "t", Bore, Limits, [], [], []))));
        Assert.Contains("No pair.", SvgChecks.Texts(SvgChecks.Sound(ClearanceHistogram.Draw("a", "t", Limits, []))));
        Assert.Contains("Nothing measured yet.", SvgChecks.Texts(SvgChecks.Sound(FlowCurve.Draw("a", "t", Curve, []))));
        Assert.Contains("No expected curve.", SvgChecks.Texts(SvgChecks.Sound(FlowCurve.Draw("a", "t", [], [new(1_000, 8)]))));
    }

    [Fact]
    public void More_marks_than_can_be_seen_are_counted_instead()
    {
        var housings = Enumerable.Range(0, FitPlot.MostMarks + 7).Select(at => new PlottedUnit($"H-{at}", Nm(15_880_000 + at))).ToList();
        var root = SvgChecks.Sound(FitPlot.Draw("many", "t", Bore, Limits, housings, [], []));
        Assert.Equal(FitPlot.MostMarks, SvgChecks.Marks(root, "housing"));
        Assert.Contains("7 more are not drawn.", SvgChecks.Texts(root));
    }

    [Fact]
    public void Texts_are_escaped_and_what_no_xml_may_hold_is_replaced()
    {
        const string nasty = "<script>alert('&')</script>\u0001\uD800\"";
        var root = SvgChecks.Sound(FitPlot.Draw("x", nasty, Bore, Limits, [new(nasty, Bore)], [], []));
        Assert.Contains(root.Elements(), element => element.Name.LocalName == "title" && element.Value == "<script>alert('&')</script>\uFFFD\uFFFD\"");
        SvgChecks.Sound(ClearanceHistogram.Draw("x", nasty, Limits, [Nm(9_000)]));
        SvgChecks.Sound(FlowCurve.Draw("x", nasty, Curve, []));
    }

    [Theory]
    [InlineData("")]
    [InlineData("1a")]
    [InlineData("a b")]
    [InlineData("a\"onload=")]
    public void An_id_that_is_none_is_a_bug_of_the_caller(string id) => Assert.Throws<ArgumentException>(() => ClearanceHistogram.Draw(id, "t", Limits, []));

    [Fact]
    public void A_flow_that_is_not_finite_is_a_bug_of_the_caller() =>
        Assert.Throws<ArgumentException>(() => FlowCurve.Draw("a", "t", Curve, [new(double.NaN, 1)]));

    [Fact]
    public void Any_sizes_are_drawn_within_the_box() =>
        Gen.Select(Gen.Long[15_000_000, 16_900_000].Array[0, 8], Gen.Long[15_000_000, 16_900_000].Array[0, 8], Gen.Int[0, 2].Array[0, 5]).Sample((bores, spools, outcomes) =>
        {
            List<PlottedUnit> housings = [.. bores.Select((size, at) => new PlottedUnit($"H-{at}", Nm(size)))];
            List<PlottedUnit> valves = [.. spools.Select((size, at) => new PlottedUnit($"V-{at}", Nm(size)))];
            List<PlottedPair> pairs = [.. housings.Zip(valves, outcomes).Select(pair => new PlottedPair(pair.First, pair.Second, (FitOutcome)pair.Third))];
            SvgChecks.Sound(FitPlot.Draw("p", "t", Bore, Limits, housings, valves, pairs));
            SvgChecks.Sound(ClearanceHistogram.Draw("h", "t", Limits, [.. bores.Zip(spools, (bore, spool) => Nm(bore - spool))]));
        }, iter: 200);

    [Fact]
    public void The_bars_hold_every_clearance_once_and_know_the_limits() =>
        Gen.Long[-30_000, 60_000].Array[1, 200].Sample(nanometres =>
        {
            var bars = ClearanceHistogram.Bars(Limits, [.. nanometres.Select(Nm)]);
            Assert.True(bars.Count <= ClearanceHistogram.MostBars);
            Assert.Equal(nanometres.Count(clearance => clearance is >= 8_000 and <= 20_000), bars.Sum(bar => bar.Within));
            Assert.Equal(nanometres.Length, bars.Sum(bar => bar.Within + bar.Outside));
            foreach (var bar in bars)
                Assert.Equal(nanometres.Count(clearance => clearance >= bar.From.Nanometres && clearance < bar.To.Nanometres), bar.Within + bar.Outside);
            Assert.Single(bars.Select(bar => (bar.To - bar.From).Nanometres).Distinct());
        });

    [Fact]
    public void Measured_flow_is_told_within_the_band_from_outside_it_and_from_where_none_is_expected()
    {
        // Expected 8 from 7 to 9 at 1000, 6 from 5 to 7 at 3000: at 2000 from 6 to 8.
        var root = SvgChecks.Sound(FlowCurve.Draw("flow", "t", Curve, [new(2_000, 6), new(2_000, 8), new(2_000, 5.99), new(2_000, 8.01), new(3_001, 6)]));
        Assert.Equal((2, 2, 1), (SvgChecks.Marks(root, "within"), SvgChecks.Marks(root, "outside"), SvgChecks.Marks(root, "unexpected")));
    }

    private static IReadOnlyList<ExpectedFlow> Curve { get; } = [new(3_000, 6, 5, 7), new(1_000, 8, 7, 9), new(0, 0, 0, 0)];

    private static Length Nm(long nanometres) => Length.FromNanometres(nanometres);
}
