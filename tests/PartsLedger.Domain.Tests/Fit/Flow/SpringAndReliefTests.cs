using CsCheck;
using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Fit.Flow;

/// <summary>
/// Published values: the house's table of check values, section F. Springs: Bhandari, Design of Machine Elements, chapter 10 (title from memory),
/// figures seen in FOSSEE/Scilab-TBC-Uploads 764/CH10. Relief: Esposito, Fluid Power with Applications, Example 8-1, inputs seen in 788/CH8/EX8.1,
/// answers recomputed. Unit factors: section G (in 25.4 mm, lbf/in 0.175126835246 N/mm, psi 6894.757293168 Pa).
/// </summary>
public sealed class SpringAndReliefTests
{
    private const double MillimetresPerInch = 25.4;
    private const double NewtonsPerMillimetrePerPoundPerInch = 0.175126835246;
    private const double KilopascalsPerPsi = 6.894757293168;

    /// <summary>Example 10.1: G 81 370, d 7, D 42 and 8 coils give 41.203 N/mm; 1 250 N press it by 30.3376 mm, and 70 + 9 + 30.3376 = 109.3376 mm is its free length.</summary>
    [Fact]
    public void The_rate_of_the_first_textbook_spring()
    {
        var rate = HelicalSpring.NewtonsPerMillimetre(81_370, 7, 42, 8);
        Assert.Equal(41.203, rate, 0.0005);
        Assert.Equal(30.3376, 1_250 / rate, 0.00005);
        Assert.Equal(109.3376, 70 + 9 + (1_250 / rate), 0.00005);

        // With 7.911 coils, before they were rounded to 8, the 30 mm asked for.
        Assert.Equal(30, 1_250 / HelicalSpring.NewtonsPerMillimetre(81_370, 7, 42, 7.911), 0.001);
    }

    /// <summary>Example 10.9: d 14, D 84, 6 coils give 109.8746 N/mm; Pmax 4 123.340 N press it by 37.5277 mm, free length 112 + 14 + 37.5277 = 163.5277 mm.</summary>
    [Fact]
    public void The_rate_of_the_second_textbook_spring()
    {
        var rate = HelicalSpring.NewtonsPerMillimetre(81_370, 14, 84, 6);
        Assert.Equal(109.8746, rate, 0.00005);
        Assert.Equal(37.5277, 4_123.340 / rate, 0.00005);
        Assert.Equal(163.5277, 112 + 14 + (4_123.340 / rate), 0.00005);
    }

    /// <summary>The safety valve of Example 10.9: seat 50 mm, k 117.8097 N/mm pressed by 25 mm blows off at 1.5 MPa; at 10 mm of lift the load is 4 123.340 N (computed).</summary>
    [Fact]
    public void The_safety_valve_of_the_textbook_blows_off_where_it_should()
    {
        var area = Math.PI / 4 * 50 * 50;
        var valve = ReliefValve.Of(Band.Exactly(area), Band.Exactly(117.8097), Band.Exactly(25), Length.Zero).Result;
        Assert.Equal(1_500, valve.OpensAtKilopascals.Value, 0.001);
        Assert.Equal(4_123.340, valve.HeldOpenAtKilopascals(10).Value / 1000 * area, 0.005);
    }

    /// <summary>Example 8-1: 0.75 in², 2 500 lb/in, 0.20 in of preload open at 666.7 psi; 0.10 in further open 1 000 psi, 333 psi above.</summary>
    [Fact]
    public void The_relief_of_the_textbook_opens_where_it_should()
    {
        var valve = Textbook(shimsInch: 0.05m);
        Assert.Equal(666.7, valve.OpensAtKilopascals.Value / KilopascalsPerPsi, 0.05);
        var full = valve.HeldOpenAtKilopascals(0.10 * MillimetresPerInch);
        Assert.Equal(1_000, full.Value / KilopascalsPerPsi, 0.01);
        Assert.Equal(333, (full.Value - valve.OpensAtKilopascals.Value) / KilopascalsPerPsi, 0.5);
    }

    /// <summary>A shim of 0.010 in is worth 33.33 psi on the same valve (computed, k t / A).</summary>
    [Fact]
    public void A_missing_shim_costs_its_thickness_times_rate_over_area()
    {
        var missing = Textbook(shimsInch: 0.05m).Without(Inch(0.010m)).Result;
        Assert.Equal(-33.33, missing.ChangeKilopascals.Value / KilopascalsPerPsi, 0.005);
        Assert.Equal(666.67 - 33.33, missing.OpensAtKilopascals.Value / KilopascalsPerPsi, 0.01);
        Assert.Contains("what came out goes back", missing.Reason, StringComparison.Ordinal);
        Assert.Contains("service information", missing.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_shim_that_is_not_there_cannot_be_missing()
    {
        Assert.Equal("SHIM_STACK", Textbook(0.05m).Without(Inch(0.06m)).Refusal!.Code);
        Assert.Equal("SHIM_STACK", Textbook(0.05m).Without(Length.Zero).Refusal!.Code);
        Assert.Equal("SHIM_STACK", ReliefValve.Of(Band.Exactly(10), Band.Exactly(10), Band.Exactly(-1), Length.FromNanometres(500_000)).Refusal!.Code);
        Assert.Equal("INPUT_NOT_POSITIVE", ReliefValve.Of(Band.Exactly(0), Band.Exactly(10), Band.Exactly(1), Length.Zero).Refusal!.Code);
    }

    [Fact]
    public void The_wires_band_counts_four_times()
    {
        var rate = HelicalSpring.NewtonsPerMillimetre(Band.Exactly(81_370), Band.Percent(7, 1), Band.Exactly(42), Band.Exactly(8));
        Assert.Equal((Math.Pow(0.99, 4), Math.Pow(1.01, 4)), (Math.Round(rate.Low / rate.Value, 12), Math.Round(rate.High / rate.Value, 12)));
    }

    [Fact]
    public void Fewer_shims_never_open_later() =>
        Gen.Select(Gen.Double[5, 100], Gen.Double[1, 50], Gen.Double[0.5, 8], Gen.Long[1, 2_000_000]).Sample((area, rate, preload, shim) =>
        {
            var valve = ReliefValve.Of(Band.Percent(area, 2), Band.Percent(rate, 5), Band.Exactly(preload), Length.FromNanometres(2_000_000)).Result;
            var missing = valve.Without(Length.FromNanometres(shim)).Result;
            Assert.True(missing.OpensAtKilopascals.Value < valve.OpensAtKilopascals.Value && missing.OpensAtKilopascals.Low >= 0);
            Assert.Equal(missing.ChangeKilopascals.Value, missing.OpensAtKilopascals.Value - valve.OpensAtKilopascals.Value, 1e-6 * valve.OpensAtKilopascals.Value);
        });

    private static ReliefValve Textbook(decimal shimsInch) => ReliefValve.Of(
        Band.Exactly(0.75 * MillimetresPerInch * MillimetresPerInch), Band.Exactly(2_500 * NewtonsPerMillimetrePerPoundPerInch),
        Band.Exactly((0.20 - (double)shimsInch) * MillimetresPerInch), Inch(shimsInch)).Result;

    private static Length Inch(decimal inches) => Length.FromNanometres((long)(inches * Length.NanometresPerInch));
}
