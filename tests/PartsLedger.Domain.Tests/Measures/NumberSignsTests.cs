using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests;

/// <summary>How numbers are written, and read as people write them. The ways of writing are common practice, no source.</summary>
public sealed class NumberSignsTests
{
    private static readonly NumberSigns Comma = new(',', "."), Point = new('.', ","), Spaced = new(',', NumberSigns.Space);

    [Theory]
    [InlineData("15,8856", "15.8856")]
    [InlineData("15.8856", "15.8856")]
    [InlineData(",5", ".5")]
    [InlineData("−0,5", "-0.5")]
    [InlineData("1.234,5", "1234.5")]
    [InlineData("1,234.5", "1234.5")]
    [InlineData("1.234.567", "1234567")]
    [InlineData("1 234 567,5", "1234567.5")]
    [InlineData("1'234'567.5", "1234567.5")]
    [InlineData("12\u00A0000", "12000")]
    [InlineData("55,2 bar", "55.2 bar")]
    [InlineData("15,8856 mm; 15,8862 mm", "15.8856 mm; 15.8862 mm")]
    [InlineData("1 3/16 in", "1 3/16 in")]
    [InlineData("2 125/128 in", "2 125/128 in")]
    [InlineData("", "")]
    [InlineData("none", "none")]
    public void A_number_is_read_with_a_point_or_a_comma_whatever_the_shop_writes(string typed, string plain)
    {
        foreach (var signs in (NumberSigns[])[NumberSigns.Usual, Comma, Point, Spaced])
            Assert.Equal(plain, signs.Plain(typed).Result);
    }

    [Theory]
    [InlineData("1.2.3")]
    [InlineData("12,34,567")]
    [InlineData("1.234,567.8")]
    [InlineData("1234.567,8,9")]
    public void What_is_no_number_stays_as_it_is_for_the_reader_to_refuse(string typed) => Assert.Equal(typed, NumberSigns.Usual.Plain(typed).Result);

    [Theory]
    [InlineData("1.234", ',', ".")]
    [InlineData("12,345 mm", '.', ",")]
    public void A_number_that_means_two_things_in_this_shop_is_refused_and_read_in_a_shop_where_it_means_one(string typed, char sign, string group)
    {
        var refused = new NumberSigns(sign, group).Plain(typed);
        Assert.False(refused.Succeeded);
        Assert.Equal("NUMBER_TWO_WAYS", refused.Refusal.Code);
        Assert.Equal(typed.Replace(',', '.'), NumberSigns.Usual.Plain(typed).Result);
    }

    [Fact]
    public void Numbers_are_written_with_the_shops_signs()
    {
        Assert.Equal("1234567.80", NumberSigns.Usual.Write(1234567.8m, "0.00##"));
        Assert.Equal("1.234.567,80", Comma.Write(1234567.8m, "0.00##"));
        Assert.Equal("-1,234.5", Point.Write(-1234.5m, "0.###"));
        Assert.Equal("1\u00A0234,5", Spaced.Write(1234.5m, "0.###"));
        Assert.Equal("0,5", Comma.Write(0.5m, "0.###"));
        Assert.Equal("999", Point.Write(999m, "0.###"));
    }

    [Fact]
    public void What_was_written_is_read_back_or_refused_and_never_read_as_another_number()
    {
        var random = new Random(20261126);
        var refused = 0;
        for (var turn = 0; turn < 20_000; turn++)
        {
            var number = Math.Round((decimal)(random.NextDouble() * Math.Pow(10, random.Next(0, 9))), random.Next(0, 5));
            foreach (var signs in (NumberSigns[])[NumberSigns.Usual, Comma, Point, Spaced, new('.', "'"), new(',', "")])
            {
                var read = signs.Plain(signs.Write(number, "0.####"));
                if (!read.Succeeded) refused++;
                else Assert.Equal(number, decimal.Parse(read.Result, System.Globalization.CultureInfo.InvariantCulture));
            }
        }
        Assert.InRange(refused, 1, 20_000);
    }
}
