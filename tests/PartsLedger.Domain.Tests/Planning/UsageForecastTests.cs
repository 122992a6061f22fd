using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Planning;

namespace PartsLedger.Domain.Tests.Planning;

public sealed class UsageForecastTests
{
    // Usage a day × days is what is there: common practice, no source; the figures are divided by hand.
    [Theory]
    [InlineData(30, 90, 90, 30)]
    [InlineData(10, 45, 90, 20)]
    [InlineData(7, 3, 90, 210)]
    [InlineData(1, 100, 90, 0)]
    [InlineData(0, 5, 90, 0)]
    [InlineData(1_000_000, 1, 90, 9_999)]
    public void Stock_lasts_as_many_whole_days_as_it_covers(int free, int used, int days, int expected) =>
        Assert.Equal(expected, UsageForecast.DaysLeft(Quantity.FromWhole(free), Quantity.FromWhole(used), days));

    [Fact]
    public void What_nobody_used_lasts_nobody_knows_how_long()
    {
        Assert.Null(UsageForecast.DaysLeft(Quantity.FromWhole(5), Quantity.Zero, 90));
        Assert.Null(UsageForecast.DaysLeft(Quantity.FromWhole(5), Quantity.FromWhole(-2), 90));
    }
}
