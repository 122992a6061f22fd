using CsCheck;
using PartsLedger.Domain.Fit.Conformity;

namespace PartsLedger.Domain.Tests.Fit.Conformity;

public sealed class NormalDistributionTests
{
    /// <summary>
    /// One-sided z for these probabilities: computed; JCGM 106 Table 1 lists them rounded to two decimals, which is from memory (house's table of
    /// check values, section C).
    /// </summary>
    [Theory]
    [InlineData(0.80, 0.8416)]
    [InlineData(0.90, 1.2816)]
    [InlineData(0.95, 1.6449)]
    [InlineData(0.99, 2.3263)]
    [InlineData(0.999, 3.0902)]
    public void The_guard_band_for_a_probability(double probability, double z)
    {
        Assert.Equal(z, Conformance.GuardBandFor(probability), 0.00005);
        Assert.Equal(-z, Conformance.GuardBandFor(1 - probability), 0.00005);
    }

    /// <summary>Computed to fifteen digits by a mathematical library's erf and erfc, both sides of the handover of the two methods.</summary>
    [Theory]
    [InlineData(0, 0, 1)]
    [InlineData(0.1, 0.1124629160182849, 0.8875370839817152)]
    [InlineData(0.5, 0.5204998778130465, 0.4795001221869535)]
    [InlineData(0.999, 0.8422852702064969, 0.15771472979350307)]
    [InlineData(1, 0.8427007929497149, 0.15729920705028513)]
    [InlineData(2, 0.9953222650189527, 0.004677734981047265)]
    [InlineData(5, 0.9999999999984626, 1.5374597944280351e-12)]
    [InlineData(10, 1, 2.088487583762545e-45)]
    [InlineData(26, 1, 5.663192408856143e-296)]
    public void Erf_and_erfc_are_good_to_twelve_digits(double x, double erf, double erfc)
    {
        Assert.Equal(erf, NormalDistribution.Erf(x), 1e-15);
        Assert.Equal(-erf, NormalDistribution.Erf(-x), 1e-15);
        Assert.Equal(1, NormalDistribution.Erfc(x) / erfc, 1e-12);
        Assert.Equal(2 - erfc, NormalDistribution.Erfc(-x), 1e-15);
    }

    [Fact]
    public void The_ends_are_nothing_and_everything()
    {
        Assert.Equal(0, NormalDistribution.Cumulative(double.NegativeInfinity));
        Assert.Equal(1, NormalDistribution.Cumulative(double.PositiveInfinity));
        Assert.Equal(double.NegativeInfinity, NormalDistribution.Quantile(0));
        Assert.Equal(double.PositiveInfinity, NormalDistribution.Quantile(1));
        Assert.Equal(0, NormalDistribution.Quantile(0.5), 1e-15);
        Assert.Throws<ArgumentOutOfRangeException>(() => NormalDistribution.Quantile(1.5));
        Assert.Throws<ArgumentOutOfRangeException>(() => NormalDistribution.Quantile(double.NaN));
    }

    [Fact]
    public void The_quantile_undoes_the_distribution() =>
        Gen.Double[-30, 5].Sample(z => Assert.Equal(z, NormalDistribution.Quantile(NormalDistribution.Cumulative(z)), z > 3 ? 1e-9 : 1e-11));

    [Fact]
    public void The_distribution_never_falls() =>
        Gen.Select(Gen.Double[-8, 8], Gen.Double[0, 1]).Sample((z, step) =>
            Assert.True(NormalDistribution.Cumulative(z + step) >= NormalDistribution.Cumulative(z) - 1e-15));
}
