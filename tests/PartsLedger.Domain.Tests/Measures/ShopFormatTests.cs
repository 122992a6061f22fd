using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests;

/// <summary>
/// Sizes and money as a shop writes them. Factors: 1 in = 25.4 mm exactly, 1 psi = 6894.757 293 168 Pa, 1 US gal = 3.785 411 784 L, 0 °C = 32 °F
/// (NIST SP 811, appendix B, as in the house's table of check values, section G; ISO 80000-3 and -4 have the same inch and pascal).
/// </summary>
public sealed class ShopFormatTests
{
    private static readonly ShopFormat Inches = new()
    {
        LengthUnit = ShopUnits.Inch, PressureUnit = ShopUnits.Psi, FlowUnit = ShopUnits.GallonPerMinute, TemperatureUnit = ShopUnits.Fahrenheit,
        Numbers = new('.', ","), Currency = new("$", ""),
    };

    [Fact]
    public void A_shop_that_never_chose_writes_as_before()
    {
        var shop = ShopFormat.Usual;
        Assert.Equal("15.8761 mm", shop.Of(Length.FromNanometres(15_876_100)));
        Assert.Equal("12.3 µm", shop.Small(12.3m));
        Assert.Equal("70 bar (1015 psi)", shop.Twice(Pressure.FromPascals(7_000_000)));
        Assert.Equal("18.9", shop.Flow(18.9));
        Assert.Equal("50 °C", shop.Temperature(50));
        Assert.Equal("161.20", shop.Of(Money.FromTenThousandths(1_612_000)));
        Assert.Equal("1234.5", shop.Of(Quantity.FromThousandths(1_234_500)));
    }

    [Fact]
    public void A_shop_that_measures_in_inches_sees_inches_psi_gallons_and_Fahrenheit()
    {
        Assert.Equal("0.625 in", Inches.Of(Length.FromNanometres(15_875_000)));
        Assert.Equal("0.000500 in", Inches.Small(12.7m));
        Assert.Equal("1000 psi (6894.8 kPa)", Inches.Twice(Pressure.FromPascals(6_894_757)));
        Assert.Equal("5", Inches.Flow(18.92705892));
        Assert.Equal("122 °F", Inches.Temperature(50));
        Assert.Equal("$1,612.00", Inches.Of(Money.FromTenThousandths(16_120_000)));
    }

    [Theory]
    [InlineData("mpa", "7 MPa (7000 kPa)")]
    [InlineData("kpa", "7000 kPa (70 bar)")]
    [InlineData("psi", "1015 psi (7000 kPa)")]
    public void A_pressure_that_safety_hangs_on_stands_in_two_units(string word, string written) =>
        Assert.Equal(written, (ShopFormat.Usual with { PressureUnit = ShopUnits.Pressures.Single(unit => unit.Word == word) }).Twice(Pressure.FromPascals(7_000_000)));

    [Fact]
    public void No_nanometre_is_lost_between_what_is_shown_and_what_is_typed_back()
    {
        var random = new Random(20261126);
        foreach (var shop in (ShopFormat[])[ShopFormat.Usual, Inches, Inches with { Numbers = new(',', "") }])
            for (var turn = 0; turn < 20_000; turn++)
            {
                var nanometres = random.NextInt64(0, 300_000_000);
                var shown = shop.Of(Length.FromNanometres(nanometres));
                Assert.True(shop.LengthUnit.TryRead(shop.Numbers.Plain(shown).Result, LengthUnits.All, out var read), shown);
                Assert.Equal(nanometres, read);
                var bare = shop.Numbers.Plain(shown.Split(' ')[0]).Result;
                Assert.True(shop.LengthUnit.TryRead(bare, LengthUnits.All, out read), bare);
                Assert.Equal(nanometres, read);
            }
    }

    [Theory]
    [InlineData("0.625", 15_875_000)]
    [InlineData("5/8", 15_875_000)]
    [InlineData("15.875 mm", 15_875_000)]
    [InlineData("0.6254371", 15_886_102)]
    public void What_is_typed_is_in_the_shops_unit_unless_another_stands_behind_it(string typed, long nanometres)
    {
        Assert.True(Inches.LengthUnit.TryRead(typed, LengthUnits.All, out var read));
        Assert.Equal(nanometres, read);
    }

    [Theory]
    [InlineData("50", "c", 50_000)]
    [InlineData("122", "f", 50_000)]
    [InlineData("122 °F", "c", 50_000)]
    [InlineData("21.5C", "f", 21_500)]
    [InlineData("-40", "f", -40_000)]
    public void A_temperature_is_read_in_the_shops_unit_unless_another_stands_behind_it(string typed, string word, int milliCelsius)
    {
        Assert.True(TemperatureUnits.TryRead(typed, ShopUnits.Temperatures.Single(unit => unit.Word == word).Unit, out var read));
        Assert.Equal(milliCelsius, read);
    }

    [Theory]
    [InlineData("warm")]
    [InlineData("")]
    [InlineData("99999999999")]
    public void What_is_no_temperature_is_not_read(string typed) => Assert.False(TemperatureUnits.TryRead(typed, TemperatureUnits.Celsius, out _));

    [Theory]
    [InlineData("$", "", "$12.50", "12.50")]
    [InlineData("", "\u00A0€", "12,50 €", "12,50")]
    [InlineData("EUR\u00A0", "", "eur 3", "3")]
    [InlineData("", "", "3", "3")]
    public void An_amount_is_read_with_the_sign_or_without_it(string before, string behind, string typed, string amount)
    {
        Assert.Equal(amount, new CurrencySign(before, behind).Without(typed));
        Assert.Equal(amount, new CurrencySign(before, behind).Without(amount));
    }
}
