using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Fit.Flow;

/// <summary>
/// Published values: the house's table of check values, sections E and G. Esposito, Fluid Power with Applications: inputs seen in
/// FOSSEE/Scilab-TBC-Uploads 788 (title from memory), answers recomputed. Unit factors as in section G.
/// </summary>
public sealed class OrificeAndPumpTests
{
    private const double LitresPerGallon = 3.785411784;
    private const double KilopascalsPerPsi = 6.894757293168;

    /// <summary>d 0.04 m, 5 000 Pa, 1 000 kg/m³, Cd 0.62: 0.002464 m³/s (published 0.00246 on calculatorcollection.org, orifice flow discharge).</summary>
    [Fact]
    public void The_published_orifice() =>
        Assert.Equal(0.002464, Orifice.LitresPerMinute(0.62, Area(40), 5, 1_000) / 60_000, 0.0000005);

    /// <summary>d 1.5, 2.0, 2.5 mm at 7 bar, 870 kg/m³, Cd 0.62: 2.637, 4.688, 7.325 L/min (computed, no source).</summary>
    [Theory]
    [InlineData(1.5, 2.637)]
    [InlineData(2.0, 4.688)]
    [InlineData(2.5, 7.325)]
    public void Shop_sizes_of_an_orifice(double diameter, double litresPerMinute)
    {
        Assert.Equal(litresPerMinute, Orifice.LitresPerMinute(0.62, Area(diameter), 700, 870), 0.0005);
        Assert.Equal(Area(diameter), Orifice.SquareMillimetres(0.62, litresPerMinute, 700, 870), 0.001);
    }

    /// <summary>
    /// Example 8-5: 25 gpm of specific gravity 0.9 at 100 psi are a Cv of 2.372 gpm/psi^½; 94.8 L/min at 687 kPa are 3.431 Lpm/kPa^½. A Cv is the
    /// flow of water at one unit of pressure, through the area that the first flow tells.
    /// </summary>
    [Fact]
    public void The_flow_coefficient_of_the_textbook_valve()
    {
        var area = Orifice.SquareMillimetres(0.62, 25 * LitresPerGallon, 100 * KilopascalsPerPsi, 900);
        Assert.Equal(2.372, Orifice.LitresPerMinute(0.62, area, KilopascalsPerPsi, 1_000) / LitresPerGallon, 0.0005);
        Assert.Equal(3.431, Orifice.LitresPerMinute(0.62, Orifice.SquareMillimetres(0.62, 94.8, 687, 900), 1, 1_000), 0.0005);
    }

    /// <summary>Cd of a sharp edge 0.60 to 0.65, 0.62 as a rule (engineering.wikia.com/wiki/Orifice_equation; calculatorcollection.org).</summary>
    [Fact]
    public void What_is_not_known_of_the_edge_is_in_the_band()
    {
        var flow = Orifice.LitresPerMinute(Orifice.SharpEdged, Band.Exactly(Area(2)), Band.Exactly(700), Band.Exactly(870));
        Assert.Equal(4.688, flow.Value, 0.0005);
        Assert.Equal((0.60 / 0.62, 0.65 / 0.62), (Math.Round(flow.Low / flow.Value, 14), Math.Round(flow.High / flow.Value, 14)), Within);
    }

    /// <summary>By hand: 6 L/min through 2 mm is 31.83 m/s; with 20 mm²/s that is 3 183.</summary>
    [Fact]
    public void The_reynolds_number_on_the_bore() => Assert.Equal(3_183.1, Orifice.Reynolds(6, 2, 20), 0.05);

    /// <summary>Example 5-4: rotor 50, cam ring 75, width 50, eccentricity 8 mm displace 0.07854 L/rev by π/2 (Dc + Dr) e L; one revolution gives that.</summary>
    [Fact]
    public void The_vane_pump_of_the_textbook() =>
        Assert.Equal(0.07854, PumpFlow.LitresPerMinute(Cubic(Math.PI / 2 * (75 + 50) * 8 * 50), 1), 0.000005);

    /// <summary>Example 5-7: 9 pistons of 15 mm on a circle of 125 mm at 10°, 1 000 rev/min and 94 percent: 0.5492 L/s.</summary>
    [Fact]
    public void The_piston_pump_of_the_textbook() =>
        Assert.Equal(0.5492, PumpFlow.LitresPerMinute(Cubic(9 * Area(15) * 125 * Math.Tan(10 * Math.PI / 180)), 1_000, 0.94) / 60, 0.00005);

    /// <summary>
    /// Example 5-8: 5 in³/rev at 1 000 rev/min: 21.645 gpm in theory (in³/rev × rev/min / 231), 20 gpm are 0.9240 of it; 1 000 psi and 900 lbf in make
    /// 0.816995 over all with exact unit constants (1 lbf in = 0.112984829028 N m).
    /// </summary>
    [Fact]
    public void The_efficiencies_of_the_textbook_pump()
    {
        var displacement = Cubic(5 * 16_387.064);
        Assert.Equal(21.645, PumpFlow.LitresPerMinute(displacement, 1_000) / LitresPerGallon, 0.0005);
        Assert.Equal(0.9240, PumpFlow.VolumetricEfficiency(20 * LitresPerGallon, displacement, 1_000), 0.00005);
        Assert.Equal(0.816995, PumpFlow.HydraulicKilowatts(1_000 * KilopascalsPerPsi, 20 * LitresPerGallon) / PumpFlow.ShaftKilowatts(900 * 0.112984829028, 1_000), 0.0000005);
    }

    /// <summary>100 bar at 10 L/min are 1.6667 kW; 1 000 psi at 2 gpm are 0.86998 kW = 1.16667 hp of 745.699871582 W (computed, exact factors).</summary>
    [Fact]
    public void Hydraulic_power()
    {
        Assert.Equal(1.6667, PumpFlow.HydraulicKilowatts(10_000, 10), 0.00005);
        var kilowatts = PumpFlow.HydraulicKilowatts(1_000 * KilopascalsPerPsi, 2 * LitresPerGallon);
        Assert.Equal(0.86998, kilowatts, 0.000005);
        Assert.Equal(1.16667, kilowatts / 0.745699871582, 0.000005);
    }

    private static bool Within((double, double) expected, (double, double) found) =>
        Math.Abs(expected.Item1 - found.Item1) < 1e-12 && Math.Abs(expected.Item2 - found.Item2) < 1e-12;

    private static double Area(double diameter) => Math.PI / 4 * diameter * diameter;

    private static Volume Cubic(double cubicMillimetres) => Volume.FromMicrolitres((long)Math.Round(cubicMillimetres));
}
