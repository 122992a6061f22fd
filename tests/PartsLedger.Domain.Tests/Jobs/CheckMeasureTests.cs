using PartsLedger.Domain.Jobs;

namespace PartsLedger.Domain.Tests.Jobs;

public sealed class CheckMeasureTests
{
    /// <summary>
    /// An inch is 25.4 mm, a US gallon 3.785411784 L, 32 °F are 0 °C, a pound-force foot 1.3558179483314004 N m: by definition.
    /// </summary>
    [Theory]
    [InlineData("0.1875", "in", "mm", "4.7625")]
    [InlineData("4.7625", "MM", "in", "0.1875")]
    [InlineData("1", "gpm", "l/min", "3.785411784")]
    [InlineData("2.5", "bar", "kPa", "250")]
    [InlineData("212", "°F", "°C", "100")]
    [InlineData("-40", "C", "°F", "-40")]
    [InlineData("6", "Passages", "passages", "6")]
    [InlineData("12", "um", "mm", "0.012")]
    [InlineData("12", "μm", "mm", "0.012")]
    [InlineData("2", "lbf ft", "N·m", "2.7116358966628008")]
    [InlineData("30", "ml/min", "l/min", "0.03")]
    public void A_value_is_told_in_the_unit_the_check_asks_for(string value, string given, string wanted, string told) =>
        Assert.Equal(Decimal(told), CheckMeasure.Convert(Decimal(value), given, wanted));

    [Theory]
    [InlineData("mm", "bar")]
    [InlineData("°C", "mm")]
    [InlineData("pieces", "passages")]
    [InlineData("mm", "")]
    public void Units_of_different_kinds_are_not_told_in_each_other(string given, string wanted) =>
        Assert.Null(CheckMeasure.Convert(1, given, wanted));

    private static decimal Decimal(string text) => decimal.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
