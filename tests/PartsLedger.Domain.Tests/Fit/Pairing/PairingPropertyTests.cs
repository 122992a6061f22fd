using CsCheck;
using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>What must hold of every proposal. CsCheck prints the seed of a failure.</summary>
public sealed class PairingPropertyTests
{
    private static readonly Gen<PairingProblem> Problems = Gen.Int[1, 1_000_000].Select(seed => RandomPairing.Of(seed));

    [Fact]
    public void No_pair_is_ever_outside_its_band() =>
        Gen.Select(Problems, Gen.Int).Sample((problem, shuffle) =>
        {
            var random = new Random(shuffle);
            var asked = problem with { KeepTogether = Some(problem, random), Reserve = [new(random.Next(1, 4), random.Next(0, 4))] };
            PairingChecker.Check(asked, PairingSolver.Solve(asked));
        }, iter: 2_000);

    [Fact]
    public void One_more_housing_or_valve_never_lowers_the_count() =>
        Gen.Select(Problems, Gen.Long[-60, 120], Gen.Int[0, 10], Gen.Int[0, 3]).Sample((problem, size, guard, of) =>
        {
            var count = PairingSolver.Solve(problem).Count;
            Assert.True(PairingSolver.Solve(problem with { Housings = [.. problem.Housings, new(size, guard, of)] }).Count >= count);
            Assert.True(PairingSolver.Solve(problem with { Valves = [.. problem.Valves, new(size, guard, of)] }).Count >= count);
        }, iter: 1_000);

    [Fact]
    public void Scaling_and_shifting_all_sizes_changes_nothing() =>
        Gen.Select(Problems, Gen.Long[1, 50_000], Gen.Long[-100_000_000, 100_000_000]).Sample((problem, scale, shift) =>
        {
            var moved = problem with
            {
                Housings = [.. problem.Housings.Select(half => half with { Size = half.Size * scale + shift, Guard = half.Guard * scale })],
                Valves = [.. problem.Valves.Select(half => half with { Size = half.Size * scale + shift, Guard = half.Guard * scale })],
                Minimum = problem.Minimum * scale, Target = problem.Target * scale, Maximum = problem.Maximum * scale,
            };
            var (was, now) = (PairingSolver.Solve(problem), PairingSolver.Solve(moved));
            Assert.Equal(was.Pairs.Select(pair => (pair.Housing, pair.Valve)), now.Pairs.Select(pair => (pair.Housing, pair.Valve)));
            Assert.Equal(was.SumSquaredDeviation * (UInt128)(scale * scale), now.SumSquaredDeviation);
        }, iter: 1_000);

    [Fact]
    public void The_order_of_the_lists_changes_neither_count_nor_sum_nor_jobs_served() =>
        Gen.Select(Problems, Gen.Int).Sample((problem, shuffle) =>
        {
            var random = new Random(shuffle);
            var (housings, valves) = (problem.Housings.ToArray(), problem.Valves.ToArray());
            random.Shuffle(housings);
            random.Shuffle(valves);
            var (was, now) = (PairingSolver.Solve(problem), PairingSolver.Solve(problem with { Housings = housings, Valves = valves }));
            Assert.Equal((was.Count, was.SumSquaredDeviation), (now.Count, now.SumSquaredDeviation));
            Assert.Equal(was.Served, now.Served);
        }, iter: 1_000);

    [Fact]
    public void Serving_jobs_first_never_lowers_the_count() =>
        Gen.Select(Problems, Gen.Select(Gen.Int[0, 3], Gen.Int[0, 6]).Array[1, 4]).Sample((problem, wanted) =>
        {
            var served = problem with { ServeFirst = [.. wanted.Select(demand => new ClassDemand(demand.Item1, demand.Item2))] };
            Assert.Equal(PairingSolver.Solve(problem with { ServeFirst = [] }).Count, PairingSolver.Solve(served).Count);
        }, iter: 1_000);

    [Fact]
    public void Kilometre_sizes_need_wide_numbers_and_get_them() =>
        Problems.Sample(problem =>
        {
            const long Scale = 10_000_000_000;
            if (problem.Housings.Concat(problem.Valves).Any(half => Math.Abs(half.Size) > 100)) return;
            var wide = new PairingProblem(
                [.. problem.Housings.Select(half => half with { Size = half.Size * Scale, Guard = half.Guard * Scale })],
                [.. problem.Valves.Select(half => half with { Size = half.Size * Scale, Guard = half.Guard * Scale })],
                problem.Minimum * Scale, problem.Target * Scale, problem.Maximum * Scale) { ServeFirst = problem.ServeFirst };
            var answer = PairingSolver.Solve(wide);
            PairingChecker.Check(wide, answer);
            Assert.Equal(PairingSolver.Solve(problem).SumSquaredDeviation * ((UInt128)Scale * (UInt128)Scale), answer.SumSquaredDeviation);
        }, iter: 300);

    private static (int, int)[] Some(PairingProblem problem, Random random)
    {
        int[] housings = [.. Enumerable.Range(0, problem.Housings.Count)];
        int[] valves = [.. Enumerable.Range(0, problem.Valves.Count)];
        random.Shuffle(housings);
        random.Shuffle(valves);
        return [.. housings.Zip(valves).Take(random.Next(0, 5))];
    }
}
