using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests;

/// <summary>Factors from the house's table of check values, section G: 25.4 mm in an inch exactly, 6894.757293168 Pa in a psi.</summary>
public sealed class MeasureUnitsTests
{
    [Theory]
    [InlineData("15.875", 15_875_000)]
    [InlineData("15.875 mm", 15_875_000)]
    [InlineData("3/16 in", 4_762_500)]
    [InlineData("0.6250\"", 15_875_000)]
    [InlineData("1 3/16 IN", 30_162_500)]
    [InlineData("1-3/16 in", 30_162_500)]
    [InlineData("1/64 inch", 396_875)]
    [InlineData("14 um", 14_000)]
    [InlineData("0.5 µm", 500)]
    [InlineData("7nm", 7)]
    [InlineData("-2 um", -2_000)]
    [InlineData(".5", 500_000)]
    public void A_length_is_read_as_people_write_it(string text, long nanometres)
    {
        Assert.True(LengthUnits.TryRead(text, LengthUnits.Millimetre, out var length, out _));
        Assert.Equal(nanometres, length.Nanometres);
    }

    [Theory]
    [InlineData("nm", 1)]
    [InlineData("um", 1_000)]
    [InlineData("mm", 1_000_000)]
    [InlineData("in", 25_400_000)]
    public void A_bare_number_is_in_the_headers_unit(string suffix, long nanometres)
    {
        var unit = LengthUnits.All.Single(unit => unit.Suffix == suffix);
        Assert.True(LengthUnits.TryRead("1", unit, out var length, out _));
        Assert.Equal(nanometres, length.Nanometres);
    }

    [Fact]
    public void A_unit_in_the_cell_wins_over_the_headers()
    {
        Assert.True(LengthUnits.TryRead("15.875 mm", LengthUnits.Inch, out var length, out _));
        Assert.Equal(15_875_000, length.Nanometres);
    }

    [Theory]
    [InlineData("7000 kPa", 7_000_000)]
    [InlineData("70 bar", 7_000_000)]
    [InlineData("7 MPa", 7_000_000)]
    [InlineData("0.0015 bar", 150)]
    [InlineData("1 psi", 6_895)]
    [InlineData("900 psi", 6_205_282)]
    [InlineData("1000000 psi", 6_894_757_293)]
    [InlineData("-900 psi", -6_205_282)]
    public void A_pressure_is_read_and_psi_are_rounded_to_the_pascal(string text, long pascals)
    {
        Assert.True(PressureUnits.TryRead(text, null, out var pressure, out _));
        Assert.Equal(pascals, pressure.Pascals);
    }

    /// <summary>1 psi is 8 896 443 230 521 / 1 290 320 000 Pa; half of the denominator in psi-parts lies between two pascals.</summary>
    [Theory]
    [InlineData("0.00007", 0)]
    [InlineData("0.00008", 1)]
    [InlineData("-0.00008", -1)]
    public void Psi_are_rounded_to_the_nearest_pascal(string text, long pascals)
    {
        Assert.True(PressureUnits.TryRead(text, PressureUnits.Psi, out var pressure, out _));
        Assert.Equal(pascals, pressure.Pascals);
    }

    [Fact]
    public void Psi_to_three_decimals_come_back_unchanged()
    {
        for (var thousandths = 1; thousandths < 2_000_000; thousandths += 997)
        {
            Assert.True(PressureUnits.TryRead($"{thousandths / 1000m}", PressureUnits.Psi, out var pressure, out _));
            Assert.Equal(thousandths / 1000m, decimal.Round(pressure.ToPsi(), 3));
        }
    }

    [Theory]
    [InlineData("19.8", 19_800)]
    [InlineData("29.6 cc", 29_600)]
    [InlineData("14.7 cm³/rev", 14_700)]
    [InlineData("1 cm3", 1_000)]
    public void A_displacement_is_read_in_cubic_centimetres(string text, long microlitres)
    {
        Assert.True(VolumeUnits.TryRead(text, VolumeUnits.CubicCentimetre, out var volume, out _));
        Assert.Equal(microlitres, volume.Microlitres);
    }

    [Theory]
    [InlineData("", MeasureFault.NotANumber)]
    [InlineData("mm", MeasureFault.NotANumber)]
    [InlineData("15,875", MeasureFault.NotANumber)]
    [InlineData("1.2.3 mm", MeasureFault.NotANumber)]
    [InlineData("3/0 in", MeasureFault.NotANumber)]
    [InlineData("3/ in", MeasureFault.NotANumber)]
    [InlineData("5 furlongs", MeasureFault.UnknownUnit)]
    [InlineData("1e3", MeasureFault.UnknownUnit)]
    [InlineData("5", MeasureFault.NoUnit)]
    [InlineData("0.0000001 mm", MeasureFault.TooFine)]
    [InlineData("1/3 mm", MeasureFault.TooFine)]
    [InlineData("99999999999999999999 mm", MeasureFault.TooLarge)]
    public void What_is_no_length_says_why(string text, MeasureFault fault)
    {
        Assert.False(LengthUnits.TryRead(text, null, out var length, out var found));
        Assert.Equal(fault, found);
        Assert.Equal(Length.Zero, length);
    }

    [Fact]
    public void A_displacement_below_zero_is_refused() =>
        Assert.False(VolumeUnits.TryRead("-1", VolumeUnits.CubicCentimetre, out _, out _));
}
