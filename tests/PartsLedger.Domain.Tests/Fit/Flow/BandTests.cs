using CsCheck;
using PartsLedger.Domain.Fit.Flow;

namespace PartsLedger.Domain.Tests.Fit.Flow;

public sealed class BandTests
{
    [Theory]
    [InlineData(2.78, 1.62, 4.38, "2.8 (1.6 to 4.4)")]
    [InlineData(57.57, 51.2, 66.3, "58 (51 to 67)")]
    [InlineData(9_123, 8_600, 9_700, "9100 (8600 to 9700)")]
    [InlineData(0.3, 0.3, 0.3, "0.3000")]
    [InlineData(6_205.282, 6_205.282, 6_205.282, "6205")]
    [InlineData(0, 0, 0, "0")]
    [InlineData(0.5, 0, 1, "0.5 (0.0 to 1.0)")]
    [InlineData(-33.3, -37.2, -29.1, "-33 (-38 to -29)")]
    public void A_figure_is_shown_without_false_digits(double value, double low, double high, string text) =>
        Assert.Equal(text, Band.Between(low, high, value).ToString());

    [Fact]
    public void The_result_lies_in_its_band_whenever_the_inputs_lie_in_theirs() =>
        Gen.Select(Gen.Double[1, 20], Gen.Double[0, 0.9], Gen.Double[0, 1], Gen.Double[0, 1], Gen.Double[0, 1]).Sample((value, share, a, b, c) =>
        {
            var input = Band.PlusMinus(value, value * share);
            var result = Band.Through(at => at[0] * at[0] * at[1] / at[2], input, input, input);
            var (x, y, z) = (Within(a), Within(b), Within(c));
            Assert.InRange(x * x * y / z, result.Low * (1 - 1e-12), result.High * (1 + 1e-12));

            double Within(double at) => input.Low + (at * (input.High - input.Low));
        });

    [Theory]
    [InlineData(1, 2, 3)]
    [InlineData(double.NaN, 0, 1)]
    [InlineData(1, 0, double.PositiveInfinity)]
    public void A_band_that_is_none_is_a_bug(double value, double low, double high) => Assert.Throws<ArgumentException>(() => Band.Between(low, high, value));
}
