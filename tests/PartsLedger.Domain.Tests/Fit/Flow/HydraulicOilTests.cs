using CsCheck;
using PartsLedger.Domain.Fit.Flow;

namespace PartsLedger.Domain.Tests.Fit.Flow;

/// <summary>Published values: the house's table of check values, sections G and M.</summary>
public sealed class HydraulicOilTests
{
    /// <summary>Limits at 40 °C as copied at dramarnathgiri.blogspot.com/2015/07/viscosity-chart.html (32 and up) and recomputed: mid-point ± 10 percent.</summary>
    [Theory]
    [InlineData(22, 19.8, 24.2)]
    [InlineData(32, 28.8, 35.2)]
    [InlineData(46, 41.4, 50.6)]
    [InlineData(68, 61.2, 74.8)]
    [InlineData(100, 90, 110)]
    public void The_limits_of_a_grade(int grade, double low, double high)
    {
        Assert.Equal((low, high), (HydraulicOil.GradeLimits(grade).Low, Math.Round(HydraulicOil.GradeLimits(grade).High, 9)));
        Assert.Equal(grade, HydraulicOil.OfGrade(grade).Result.KinematicViscosity(40), 1e-9);
    }

    /// <summary>870 kg/m³ at 15 °C and 7e-4 per kelvin (en.oelcheck.com/wiki/dichte-temperatur-profil-dtp): 854.78, 842.60, 830.42, computed.</summary>
    [Theory]
    [InlineData(15, 870)]
    [InlineData(40, 854.78)]
    [InlineData(60, 842.60)]
    [InlineData(80, 830.42)]
    public void Density_falls_with_temperature(double celsius, double density) =>
        Assert.Equal(density, HydraulicOil.OfGrade(46).Result.Density(celsius), 0.005);

    /// <summary>46 cSt at 870 kg/m³ are 0.04002 Pa·s (computed, section G): here where the oil has that density, at 15 °C.</summary>
    [Fact]
    public void Dynamic_viscosity_is_kinematic_times_density() =>
        Assert.Equal(0.04002, HydraulicOil.Of(15, 46, 60, 12, 870).Result.DynamicViscosity(15), 1e-9);

    [Fact]
    public void An_oil_goes_through_both_its_points_in_either_order()
    {
        foreach (var oil in new[] { HydraulicOil.Of(40, 34.2, 100, 7.1, 860).Result, HydraulicOil.Of(100, 7.1, 40, 34.2, 860).Result })
            Assert.Equal((34.2, 7.1), (Math.Round(oil.KinematicViscosity(40), 9), Math.Round(oil.KinematicViscosity(100), 9)));
    }

    /// <summary>By definition of the equation: log log (ν + 0.7) at the geometric mean of two temperatures in kelvin is the mean of both ends.</summary>
    [Fact]
    public void Between_two_points_viscosity_is_a_straight_line_in_walthers_scales()
    {
        var oil = HydraulicOil.Of(40, 46, 100, 6.8, 870).Result;
        var celsius = Math.Sqrt(313.15 * 373.15) - 273.15;
        var middle = (Math.Log10(Math.Log10(46.7)) + Math.Log10(Math.Log10(7.5))) / 2;
        Assert.Equal(Math.Pow(10, Math.Pow(10, middle)) - 0.7, oil.KinematicViscosity(celsius), 1e-9);
    }

    [Fact]
    public void Oil_thins_as_it_warms() =>
        Gen.Select(Gen.Double[-10, 130], Gen.Double[0.1, 15]).Sample((celsius, warmer) =>
            Assert.True(HydraulicOil.OfGrade(46).Result.DynamicViscosity(celsius + warmer) < HydraulicOil.OfGrade(46).Result.DynamicViscosity(celsius)));

    [Fact]
    public void The_band_takes_in_the_grade_and_the_temperature()
    {
        var oil = HydraulicOil.OfGrade(32).Result;
        var band = oil.DynamicViscosity(Band.PlusMinus(60, 5), 10);
        Assert.Equal((oil.DynamicViscosity(65) * 0.9, oil.DynamicViscosity(55) * 1.1), (band.Low, band.High));
    }

    [Theory]
    [InlineData(40, 46, 45, 40, 870)]
    [InlineData(40, 46, 100, 47, 870)]
    [InlineData(40, 46, 100, 1.5, 870)]
    [InlineData(40, 46, 100, 6.8, 0.87)]
    [InlineData(40, 46, 373, 6.8, 870)]
    [InlineData(double.NaN, 46, 100, 6.8, 870)]
    public void What_is_no_oil_is_refused(double celsius1, double viscosity1, double celsius2, double viscosity2, double density) =>
        Assert.Equal("OIL_POINTS", HydraulicOil.Of(celsius1, viscosity1, celsius2, viscosity2, density).Refusal!.Code);

    [Fact]
    public void A_grade_or_a_temperature_that_is_not_known_is_refused()
    {
        Assert.Equal("OIL_GRADE", HydraulicOil.OfGrade(47).Refusal!.Code);
        Assert.Equal("OIL_TEMPERATURE", HydraulicOil.Refused(Band.PlusMinus(148, 5))!.Code);
        Assert.Null(HydraulicOil.Refused(Band.PlusMinus(60, 5)));
    }
}
