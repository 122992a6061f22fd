using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>Against a min-cost flow solver that shares nothing with ours.</summary>
public sealed class PairingReferenceTests(ITestOutputHelper output)
{
    [Fact]
    public void Count_sum_and_jobs_served_equal_the_reference_on_two_thousand_random_problems()
    {
        for (var seed = 1; seed <= 2_000; seed++)
        {
            var problem = RandomPairing.Of(seed);
            var answer = PairingSolver.Solve(problem, TestContext.Current.CancellationToken);
            PairingChecker.Check(problem, answer);
            var best = ReferencePairing.Of(problem);
            Assert.True(PairingStatus.Optimal == answer.Status, $"seed {seed}");
            Assert.True(best.Count == answer.Count, $"seed {seed}: {answer.Count} pairs, the reference has {best.Count}");
            Assert.True((UInt128)best.Sum == answer.SumSquaredDeviation, $"seed {seed}: sum {answer.SumSquaredDeviation}, the reference has {best.Sum}");
            Assert.True(best.Served.SequenceEqual(answer.Served), $"seed {seed}: served {string.Join(' ', answer.Served)}, the reference {string.Join(' ', best.Served)}");
        }
        output.WriteLine("seeds 1 to 2000");
    }

    [Fact]
    public void Large_problems_equal_the_reference_too()
    {
        for (var seed = 1; seed <= 24; seed++)
        {
            var problem = RandomPairing.Of(seed, most: 300);
            var answer = PairingSolver.Solve(problem, TestContext.Current.CancellationToken);
            PairingChecker.Check(problem, answer);
            var best = ReferencePairing.Of(problem);
            Assert.True((best.Count, (UInt128)best.Sum) == (answer.Count, answer.SumSquaredDeviation), $"seed {seed}");
        }
    }
}
