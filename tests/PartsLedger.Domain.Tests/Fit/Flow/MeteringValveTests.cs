using CsCheck;
using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Tests.Fit.Plots;

namespace PartsLedger.Domain.Tests.Fit.Flow;

/// <summary>
/// The areas are those of bores of 2.0 and 1.5 mm, the drop 700 kPa and the density 870 kg/m³, so that the flows at both ends are the house's check
/// values of section E (computed, no source): 4.688 + 2.637 L/min with both open, 4.688 L/min with the second shut.
/// </summary>
public sealed class MeteringValveTests
{
    private static readonly Volume Displacement = Volume.FromMicrolitres(14_650);

    [Fact]
    public void Flow_at_low_and_at_high_speed_is_what_the_orifices_let_out()
    {
        var valve = Valve();
        Assert.Equal(700, valve.DropKilopascals.Value, 1e-9);
        Assert.Equal(4.688 + 2.637, valve.AtLowSpeed.Value, 0.001);
        Assert.Equal(4.688, valve.AtHighSpeed.Value, 0.0005);
        Assert.Equal(4.688 + (2.637 / 2), valve.RegulatedAt(2_000).Value, 0.001);
    }

    [Fact]
    public void Before_regulation_the_flow_is_the_pumps_own()
    {
        // 14.65 cc × 300 rev/min × 0.9, by hand.
        Assert.Equal(3.9555, Valve().FlowAt(300, Displacement, Band.Exactly(0.9)).Value, 1e-9);
        Assert.Equal(Valve().AtLowSpeed, Valve().FlowAt(900, Displacement, Band.Exactly(0.9)));
    }

    [Fact]
    public void The_curve_rises_with_the_pump_holds_and_falls_to_the_second_stage()
    {
        var curve = Valve().Curve(4_000, 20, Displacement, Band.Between(0.85, 0.95, 0.9));
        Assert.Equal((0, 0), (curve[0].RevolutionsPerMinute, curve[0].LitresPerMinute));
        Assert.Equal(4_000, curve[^1].RevolutionsPerMinute);
        Assert.Equal(curve.Select(point => point.RevolutionsPerMinute).Distinct().Order(), curve.Select(point => point.RevolutionsPerMinute));

        // Where regulation begins is a point of its own: 7.325 / (0.01465 × 0.9).
        Assert.Contains(curve, point => Math.Abs(point.RevolutionsPerMinute - 555.6) < 0.1);
        Assert.All(curve.Where(point => point.RevolutionsPerMinute >= 3_000), point => Assert.Equal(4.688, point.LitresPerMinute, 0.0005));
        Assert.All(curve, point => Assert.True(point.Low <= point.LitresPerMinute && point.LitresPerMinute <= point.High));
        SvgChecks.Sound(FlowCurve.Draw("flow", "Expected", curve, []));
    }

    [Fact]
    public void The_flow_never_exceeds_the_pump_nor_the_first_stage() =>
        Gen.Select(Gen.Double[0, 6_000], Gen.Double[0.5, 1]).Sample((speed, efficiency) =>
        {
            var flow = Valve().FlowAt(speed, Displacement, Band.Exactly(efficiency)).Value;
            Assert.True(flow <= PumpFlow.LitresPerMinute(Displacement, speed, efficiency) + 1e-12 && flow <= Valve().AtLowSpeed.Value + 1e-12);
        });

    [Fact]
    public void The_springs_band_counts_by_its_root()
    {
        var low = Valve(Band.Percent(70, 19)).AtLowSpeed;
        Assert.Equal(0.9, low.Low / low.Value, 1e-9);
        Assert.Equal(Math.Sqrt(1.19), low.High / low.Value, 1e-9);
    }

    [Fact]
    public void Orifices_that_do_not_go_together_are_refused()
    {
        Assert.Equal("METERING_AREAS", Of(Orifices with { NarrowedSquareMillimetres = Band.Exactly(3) }));
        Assert.Equal("METERING_SPEEDS", Of(Orifices with { NarrowedAt = 1_000 }));
        Assert.Equal("METERING_SPEEDS", Of(Orifices with { NarrowsFrom = double.NaN }));
        Assert.Equal("INPUT_NOT_POSITIVE", Of(Orifices with { FixedSquareMillimetres = Band.Exactly(0) }));

        static string Of(MeteringOrifices orifices) => MeteringValve.Of(orifices, Band.Exactly(70), Band.Exactly(100), Band.Exactly(870)).Refusal!.Code;
    }

    private static MeteringOrifices Orifices { get; } =
        new(Band.Exactly(0.62), Band.Exactly(Math.PI), Band.Exactly(Math.PI / 4 * 2.25), Band.Exactly(0), NarrowsFrom: 1_000, NarrowedAt: 3_000);

    private static MeteringValve Valve(Band? spring = null) =>
        MeteringValve.Of(Orifices, spring ?? Band.Exactly(70), Band.Exactly(100), Band.Exactly(870)).Result;
}
