using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>What is told when the search for the least deviation is stopped, as it is at large sizes: the greatest number and a true bound.</summary>
public sealed class StoppedSearchTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(100)]
    [InlineData(300)]
    public void A_stopped_search_has_the_references_number_and_a_bound_at_or_below_its_sum(long mostLooks)
    {
        var stopped = 0;
        for (var seed = 1; seed <= 1_000; seed++)
        {
            var problem = RandomPairing.Of(seed);
            var pool = RandomPairing.PoolOf(problem);
            var pairing = PoolPairing.Of(pool, problem.ServeFirst, TestContext.Current.CancellationToken, mostLooks, exactSide: 0);
            var best = ReferencePairing.Of(problem);
            var paired = Enumerable.Range(0, pairing.HousingOf.Length).Where(valve => pairing.HousingOf[valve] >= 0).ToArray();
            var sum = paired.Aggregate(UInt128.Zero, (sum, valve) => sum + pool.SquaredDeviation(pairing.HousingOf[valve], valve));
            Assert.All(paired, valve => Assert.True(pool.Fits(pairing.HousingOf[valve], valve)));
            Assert.Equal(paired.Length, paired.Select(valve => pairing.HousingOf[valve]).Distinct().Count());
            Assert.True(best.Count == paired.Length, $"seed {seed}");
            Assert.True(best.Served.SequenceEqual(pairing.Served), $"seed {seed}");
            foreach (var of in problem.ServeFirst.Select(demand => demand.Class).Distinct())
            {
                var served = problem.ServeFirst.Zip(pairing.Served).Where(both => both.First.Class == of).Sum(both => both.Second);
                Assert.True(paired.Count(valve => pool.Valves.Class[valve] == of) >= served, $"seed {seed}");
            }
            Assert.True((UInt128)best.Sum <= sum, $"seed {seed}");
            if (pairing.Status == PairingStatus.Optimal) Assert.True((UInt128)best.Sum == sum, $"seed {seed}");
            else
            {
                stopped++;
                Assert.True(pairing.LeastSumBound <= (UInt128)best.Sum, $"seed {seed}: bound {pairing.LeastSumBound}, least {best.Sum}");
            }
        }
        Assert.True(stopped > 10, $"only {stopped} searches were stopped");
    }
}
