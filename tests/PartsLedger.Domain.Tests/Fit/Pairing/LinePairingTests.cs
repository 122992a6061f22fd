using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>Points on a line: the method for any size against the general one and against the reference.</summary>
public sealed class LinePairingTests
{
    [Fact]
    public void Count_and_sum_equal_the_reference_on_two_thousand_random_problems()
    {
        for (var seed = 1; seed <= 2_000; seed++)
        {
            var problem = RandomPairing.WithEqualGuards(seed, most: 24);
            var best = ReferencePairing.Of(problem);
            var answer = PairingSolver.Solve(problem, TestContext.Current.CancellationToken);
            PairingChecker.Check(problem, answer);
            Assert.True((best.Count, (UInt128)best.Sum) == (answer.Count, answer.SumSquaredDeviation), $"seed {seed}");
        }
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 2)]
    [InlineData(2, 1)]
    [InlineData(8, 3)]
    [InlineData(64, 12)]
    public void However_narrow_the_corridor_the_sum_is_that_of_the_general_method(int full, int reach)
    {
        for (var seed = 1; seed <= 1_500; seed++)
        {
            var problem = RandomPairing.WithEqualGuards(seed, most: seed % 10 == 0 ? 400 : 60);
            var pool = RandomPairing.PoolOf(problem);
            var line = SingleLine.Of(pool, [])!;
            var onLine = LinePairing.Find(line.Line, new CorridorSize(full, reach), TestContext.Current.CancellationToken);
            var general = Matching.Greatest(pool, new Dictionary<int, int>(), 0, long.MaxValue, TestContext.Current.CancellationToken).HousingOf;
            Assert.True(Measure(pool, general) == Measure(pool, onLine), $"seed {seed}: {Measure(pool, onLine)}, not {Measure(pool, general)}");
        }
    }

    private static (int, UInt128) Measure(PairingPool pool, int[] housingOf)
    {
        var (count, sum) = (0, UInt128.Zero);
        for (var valve = 0; valve < housingOf.Length; valve++)
        {
            if (housingOf[valve] < 0) continue;
            Assert.True(pool.Fits(housingOf[valve], valve));
            count++;
            sum += pool.SquaredDeviation(housingOf[valve], valve);
        }
        return (count, sum);
    }
}
