using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>The sweep and the exchanges by themselves: what is used where the least deviation is out of reach.</summary>
public sealed class GreatestNumberTests
{
    [Fact]
    public void The_sweep_and_the_exchanges_reach_the_references_number_and_serve_the_same_jobs()
    {
        for (var seed = 1; seed <= 2_000; seed++)
        {
            var problem = RandomPairing.Of(seed);
            var pool = RandomPairing.PoolOf(problem);
            var (housingOf, served) = GreatestNumber.Find(pool, problem.ServeFirst, TestContext.Current.CancellationToken);
            var paired = Enumerable.Range(0, housingOf.Length).Where(valve => housingOf[valve] >= 0).ToArray();
            Assert.All(paired, valve => Assert.True(pool.Fits(housingOf[valve], valve)));
            Assert.Equal(paired.Length, paired.Select(valve => housingOf[valve]).Distinct().Count());
            var best = ReferencePairing.Of(problem);
            Assert.True(best.Count == paired.Length, $"seed {seed}: {paired.Length} pairs, the reference has {best.Count}");
            Assert.True(best.Served.SequenceEqual(served), $"seed {seed}");
        }
    }

    [Fact]
    public void Counting_what_fits_a_housing_equals_trying_every_valve()
    {
        for (var seed = 1; seed <= 300; seed++)
        {
            var problem = RandomPairing.Of(3 * seed + 1);
            var pool = RandomPairing.PoolOf(problem);
            var tried = Enumerable.Range(0, pool.Housings.Count).Select(housing => Enumerable.Range(0, pool.Valves.Count).Count(valve => pool.Fits(housing, valve)));
            Assert.Equal(tried, FitCount.PerHousing(pool));
        }
    }
}
