using CsCheck;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Fit.Measuring;

public sealed class UnitSizeTests
{
    private static readonly Length Bore = Nm(15_875_000);

    [Fact]
    public void Size_is_the_mean_and_form_the_spread_of_the_readings_at_20_degrees()
    {
        // Worked by hand: mean 15.8761 mm, spread 0.6 µm; at 24 °C cast iron is 1.000042 of its size: 15.8761 / 1.000042 = 15.87543323…
        var size = UnitSize.Of(Plain(15_875_800, 15_876_400, 15_876_100), 24_000, ThermalExpansion.CastIron, Bore).Result;
        Assert.Equal(15_875_433, size.Size.Nanometres);
        Assert.Equal(600, size.Form.Nanometres);
        Assert.Equal(3, size.Readings);
        Assert.Null(size.Taper);
        Assert.Null(size.Roundness);
    }

    [Fact]
    public void A_mean_between_two_nanometres_is_rounded_once_away_from_zero() =>
        Assert.Equal(15_875_002, UnitSize.Of(Plain(15_875_001, 15_875_002), 20_000, ThermalExpansion.Steel).Result.Size.Nanometres);

    [Fact]
    public void A_single_reading_has_a_form_of_zero() =>
        Assert.Equal(Length.Zero, UnitSize.Of(Plain(15_875_001), 20_000, ThermalExpansion.Steel).Result.Form);

    [Fact]
    public void Taper_and_roundness_are_told_from_the_places()
    {
        // Means 15.8761, 15.8765 and 15.8769 mm at 5, 10 and 15 mm: 0.8 µm over all, 80 nm a millimetre; most out of round at 10 mm.
        var size = UnitSize.Of([At(5, 15_876_000), At(5, 15_876_200), At(10, 15_876_250), At(10, 15_876_750), At(15, 15_876_900)], 20_000, ThermalExpansion.Steel).Result;
        Assert.Equal(800, size.Taper!.Difference.Nanometres);
        Assert.Equal(500, size.Roundness!.Value.Nanometres);
        Assert.Equal(900, size.Form.Nanometres);
        Assert.Equal(80m, size.Taper.NanometresPerMillimetre);
    }

    [Fact]
    public void A_bore_that_narrows_has_a_slope_below_zero_and_a_barrel_none()
    {
        var narrowing = UnitSize.Of([At(0, 16_000_300), At(3, 16_000_200), At(6, 16_000_000)], 20_000, ThermalExpansion.Steel).Result.Taper!;
        Assert.Equal((300, -50m), (narrowing.Difference.Nanometres, narrowing.NanometresPerMillimetre));
        var barrel = UnitSize.Of([At(0, 16_000_000), At(3, 16_000_200), At(6, 16_000_000)], 20_000, ThermalExpansion.Steel).Result.Taper!;
        Assert.Equal((200, 0m), (barrel.Difference.Nanometres, barrel.NanometresPerMillimetre));
    }

    [Fact]
    public void Readings_at_one_depth_have_a_roundness_and_no_taper()
    {
        var size = UnitSize.Of([At(5, 16_000_000), At(5, 16_000_400), .. Plain(16_000_900)], 20_000, ThermalExpansion.Steel).Result;
        Assert.Null(size.Taper);
        Assert.Equal(400, size.Roundness!.Value.Nanometres);
    }

    [Fact]
    public void The_order_of_the_readings_means_nothing_and_shifting_them_shifts_the_size_alone() =>
        Gen.Select(Gen.Select(Gen.Long[15_990_000, 16_010_000], Gen.Long[0, 3]).Array[1, 12], Gen.Long[-5_000, 5_000]).Sample((places, shift) =>
        {
            var readings = places.Select(place => At(place.Item2, place.Item1)).ToList();
            var size = UnitSize.Of(readings, 20_000, ThermalExpansion.Steel).Result;
            readings.Reverse();
            Assert.Equal(size, UnitSize.Of(readings, 20_000, ThermalExpansion.Steel).Result);
            var shifted = UnitSize.Of([.. readings.Select(reading => reading with { Diameter = reading.Diameter + Nm(shift) })], 20_000, ThermalExpansion.Steel).Result;
            Assert.Equal(size with { Size = size.Size + Nm(shift) }, shifted);
            Assert.True((size.Roundness ?? Length.Zero) <= size.Form && (size.Taper?.Difference ?? Length.Zero) <= size.Form);
        });

    [Theory]
    [InlineData(625_000, "READING_UNIT", "inches")]
    [InlineData(15_875_000_000, "READING_UNIT", "µm")]
    [InlineData(15_875_000_000_000, "READING_UNIT", "nm")]
    [InlineData(15_875, "READING_UNIT", "metres")]
    [InlineData(403_225_000, "READING_UNIT", "where inches were expected")]
    [InlineData(158_750_000, "READING_UNIT", "too far right")]
    [InlineData(1_587_500, "READING_UNIT", "too far left")]
    [InlineData(30_000_000, "READING_FAR", "15.875 mm")]
    [InlineData(-15_875_000, "READING_NOT_POSITIVE", "diameter")]
    public void A_reading_in_the_wrong_unit_is_refused_and_the_unit_guessed(long nanometres, string code, string says)
    {
        var refusal = UnitSize.Of(Plain(15_875_100, nanometres), 20_000, ThermalExpansion.Steel, Bore).Refusal!;
        Assert.Equal(code, refusal.Code);
        Assert.Contains(says, refusal.Sentence, StringComparison.Ordinal);
        Assert.StartsWith("Reading 2", refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_told_is_refused()
    {
        Assert.Equal("NO_READINGS", UnitSize.Of([], 20_000, ThermalExpansion.Steel).Refusal!.Code);
        Assert.Equal("TOO_MANY_READINGS", UnitSize.Of([.. Enumerable.Repeat(new PlacedReading(Bore), 1_001)], 20_000, ThermalExpansion.Steel).Refusal!.Code);
        Assert.Equal("SPREAD_IMPOSSIBLE", UnitSize.Of(Plain(15_875_000, 15_955_000), 20_000, ThermalExpansion.Steel).Refusal!.Code);
        Assert.True(UnitSize.Of(Plain(15_875_000, 15_954_000), 20_000, ThermalExpansion.Steel).Succeeded);
        Assert.Equal("SPREAD_IMPOSSIBLE", UnitSize.Of(Plain(15_875_000, 625_000), 20_000, ThermalExpansion.Steel).Refusal!.Code);
    }

    [Theory]
    [InlineData(200_000, "200 °C is no temperature a piece is measured at.")]
    [InlineData(68_000, "68 °C is no temperature a piece is measured at; 68 looks like °F.")]
    [InlineData(293_150, "293.15 °C is no temperature a piece is measured at; 293.15 looks like kelvin.")]
    [InlineData(4_999, "4.999 °C is no temperature a piece is measured at.")]
    public void A_temperature_no_room_has_is_refused(int milliCelsius, string sentence)
    {
        var refusal = UnitSize.Of(Plain(15_875_000), milliCelsius, ThermalExpansion.Steel).Refusal!;
        Assert.Equal(("TEMPERATURE_RANGE", sentence), (refusal.Code, refusal.Sentence));
    }

    [Theory]
    [InlineData(5_000)]
    [InlineData(45_000)]
    public void The_ends_of_a_rooms_temperatures_are_allowed(int milliCelsius) => Assert.Null(Plausible.Temperature(milliCelsius));

    [Fact]
    public void Form_beyond_the_familys_limit_refuses_the_unit()
    {
        var size = UnitSize.Of(Plain(15_875_000, 15_878_001), 20_000, ThermalExpansion.Steel).Result;
        Assert.Equal("FORM_BEYOND_LIMIT", size.Beyond(Nm(3_000))!.Code);
        Assert.Null(size.Beyond(Nm(3_001)));
        Assert.Null(size.Beyond(null));
    }

    private static List<PlacedReading> Plain(params long[] nanometres) => [.. nanometres.Select(reading => new PlacedReading(Nm(reading)))];

    private static PlacedReading At(long millimetres, long nanometres) => new(Nm(nanometres), Nm(millimetres * Length.NanometresPerMillimetre));

    private static Length Nm(long nanometres) => Length.FromNanometres(nanometres);
}
