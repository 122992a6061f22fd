using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>
/// The exact optimum against simpler ways of selective assembly, on the distributions for which their figures are reckoned: check values,
/// section J. The published papers of that section state no distribution that could be seen, so none of their figures is among these.
/// </summary>
public sealed class SelectiveAssemblyTests
{
    private const int Pieces = 20_000;

    [Fact]
    public void At_least_as_many_pairs_fit_as_when_they_are_taken_at_random()
    {
        // Clearance 20.5 µm in the mean, deviations of 3 µm (bores) and 2 µm (spools), window 12 to 28 µm: 0.97204 of random pairs fit
        // (computed from the normal distribution). The optimum of a sample must not be below that.
        var problem = new PairingProblem(Side(20_500, 3_000, seed: 1), Side(0, 2_000, seed: 2), 12_000, 20_000, 28_000);
        var share = PairingSolver.Solve(problem, TestContext.Current.CancellationToken).Count / (double)Pieces;
        TestContext.Current.TestOutputHelper?.WriteLine($"optimum {share:0.00000}, random 0.97204");
        Assert.InRange(share, 0.97204, 1);
    }

    /// <param name="ratio">Deviation of the bores over that of the spools.</param>
    /// <param name="groups">Groups of equal width over ± 3 of the smaller deviation, the ends open.</param>
    /// <param name="surplus">The share that is left over when only equal groups are paired (computed, section J).</param>
    [Theory]
    [InlineData(1.2, 3, 0.0873)]
    [InlineData(1.2, 5, 0.0686)]
    [InlineData(1.5, 3, 0.1877)]
    [InlineData(1.5, 6, 0.1877)]
    [InlineData(2.0, 4, 0.3196)]
    [InlineData(2.0, 5, 0.2963)]
    public void Fewer_are_left_over_than_when_groups_of_equal_width_are_paired(double ratio, int groups, double surplus)
    {
        // Two of one group differ by the group's width at the most, the open ends aside: the optimum may use no more than that.
        const int Deviation = 10_000;
        var width = 6 * Deviation / groups;
        var problem = new PairingProblem(Side(0, ratio * Deviation, seed: 3), Side(0, Deviation, seed: 4), -width, 0, width);
        var left = 1 - (PairingSolver.Solve(problem, TestContext.Current.CancellationToken).Count / (double)Pieces);
        TestContext.Current.TestOutputHelper?.WriteLine($"optimum leaves {left:0.0000}, groups leave {surplus:0.0000}");
        Assert.InRange(left, 0, surplus);
    }

    /// <summary>Normal sizes by Box and Muller's method, in nm.</summary>
    private static LooseHalf[] Side(double mean, double deviation, int seed)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, Pieces).Select(_ => new LooseHalf((long)Math.Round(mean
            + (deviation * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()))), 0))];
    }
}
