using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>What honing would buy, and what to order.</summary>
public sealed class HoningTests
{
    [Fact]
    public void The_cheapest_step_that_makes_a_pair_fit_is_taken()
    {
        var plan = HoningPlanner.Plan(new([new(105, 0)], [new(100, 0)], 12, 15, 18, HoningStep.Every(step: 4, limit: 20, costPerStep: 7)));
        Assert.Equal(new HonedPair(0, 0, new(8, 14), Clearance: 13, Deviation: -2), plan.Pairs.Single());
        Assert.Equal([14], plan.LeastCost);
    }

    [Fact]
    public void Of_equally_cheap_steps_the_one_nearest_to_the_target_is_taken()
    {
        var plan = HoningPlanner.Plan(new([new(105, 0)], [new(100, 0)], 12, 15, 18, [new(7, 5), new(10, 5), new(12, 5)]));
        Assert.Equal(15, plan.Pairs.Single().Clearance);
    }

    [Fact]
    public void A_plan_may_stop_where_the_next_pair_is_not_worth_its_cost()
    {
        var problem = new HoningProblem([new(105, 0), new(100, 0)], [new(100, 0), new(100, 0)], 12, 15, 18, HoningStep.Every(4, 20, 7));
        Assert.Equal([14, 35], HoningPlanner.Plan(problem).LeastCost);
        Assert.Equal(0, HoningPlanner.Plan(problem, mostPairs: 1).Pairs.Single().Housing);
    }

    [Fact]
    public void Every_number_of_pairs_costs_what_trying_all_plans_finds()
    {
        for (var seed = 1; seed <= 2_000; seed++)
        {
            var problem = Random(seed);
            var plan = HoningPlanner.Plan(problem, cancellation: TestContext.Current.CancellationToken);
            var best = LeastCosts(problem);
            Assert.True(best.SequenceEqual(plan.LeastCost), $"seed {seed}: {string.Join(' ', plan.LeastCost)}, not {string.Join(' ', best)}");
            Check(problem, plan);
            for (var most = 1; most < best.Length; most++)
            {
                var part = HoningPlanner.Plan(problem, most);
                Check(problem, part);
                Assert.Equal(best[most - 1], part.Cost);
            }
        }
    }

    [Fact]
    public void A_large_plan_costs_what_the_pairing_reference_finds()
    {
        // With one step for all, the most pairs is a pairing of the honed bores; every pair costs the same.
        for (var seed = 1; seed <= 20; seed++)
        {
            var pairing = RandomPairing.Of(3 * seed + 1, most: 150);
            var plan = HoningPlanner.Plan(new(pairing.Housings, pairing.Valves, pairing.Minimum, pairing.Target, pairing.Maximum, [new(3, 10)]));
            var honed = pairing with { Housings = [.. pairing.Housings.Select(half => half with { Size = half.Size + 3 })] };
            var best = ReferencePairing.Of(honed);
            Assert.True((best.Count, 10L * best.Count) == (plan.Pairs.Count, plan.Cost), $"seed {seed}");
        }
    }

    [Fact]
    public void Steps_and_sizes_out_of_range_are_refused()
    {
        Assert.Throws<ArgumentException>(() => HoningPlanner.Plan(new([], [], 12, 15, 18, [new(0, 1)])));
        Assert.Throws<ArgumentException>(() => HoningPlanner.Plan(new([], [], 12, 15, 18, [new(1, -1)])));
        Assert.Throws<ArgumentException>(() => HoningPlanner.Plan(new([.. Enumerable.Repeat(new LooseHalf(1, 0), 2_001)], [], 12, 15, 18, [])));
        Assert.Throws<ArgumentOutOfRangeException>(() => HoningStep.Every(0, 20, 7));
    }

    [Fact]
    public void Sizes_to_order_are_counted_against_sizes_on_hand()
    {
        var bins = SizesToOrder.Of([new(115, 0), new(116, 0), new(124, 0), new(14, 0)], [new(101, 3), new(-1, 0)], target: 15, binWidth: 5);
        Assert.Equal([new(-5, 0, 1, 1), new(100, 105, 2, 1), new(105, 110, 1, 0)], bins);
        Assert.Equal([0, 1, 1], bins.Select(bin => bin.ToOrder));
    }

    private static HoningProblem Random(int seed)
    {
        var random = new Random(seed);
        var window = random.Next(0, 8);
        HoningStep[] steps = [.. Enumerable.Range(0, random.Next(1, 5)).Select(_ => new HoningStep(random.Next(1, 20), random.Next(0, 9)))];
        return new(Halves(0, 3), Halves(0, 3), 0, window / 2, window, steps);

        LooseHalf[] Halves(int least, int classes) =>
            [.. Enumerable.Range(0, random.Next(0, 6)).Select(_ => new LooseHalf(random.Next(-12, 12), random.Next(0, 3), seed % 4 == 0 ? random.Next(least, classes) : 0))];
    }

    /// <summary>By trying everything: each valve in turn goes nowhere or into any free bore by any step.</summary>
    private static long[] LeastCosts(HoningProblem problem)
    {
        var least = new long?[Math.Min(problem.Housings.Count, problem.Valves.Count) + 1];
        Try(0, new bool[problem.Housings.Count], 0, 0);
        return [.. least.Skip(1).TakeWhile(cost => cost is not null).Select(cost => cost!.Value)];

        void Try(int valve, bool[] taken, int pairs, long cost)
        {
            if (valve == problem.Valves.Count)
            {
                if (least[pairs] is not { } known || cost < known) least[pairs] = cost;
                return;
            }
            Try(valve + 1, taken, pairs, cost);
            for (var housing = 0; housing < taken.Length; housing++)
            {
                if (taken[housing]) continue;
                var fitting = problem.Steps.Where(step => Fits(problem, housing, valve, step)).Select(step => (long?)step.Cost).Min();
                if (fitting is not { } price) continue;
                taken[housing] = true;
                Try(valve + 1, taken, pairs + 1, cost + price);
                taken[housing] = false;
            }
        }
    }

    private static bool Fits(HoningProblem problem, int housing, int valve, HoningStep step)
    {
        var (bore, spool) = (problem.Housings[housing], problem.Valves[valve]);
        var clearance = bore.Size + step.Enlarges - spool.Size;
        return (bore.Class == 0 || bore.Class == spool.Class)
            && clearance - bore.Guard - spool.Guard >= problem.Minimum && clearance + bore.Guard + spool.Guard <= problem.Maximum;
    }

    private static void Check(HoningProblem problem, HoningPlan plan)
    {
        Assert.Equal(plan.Pairs.Count, plan.LeastCost.Count);
        Assert.Equal(plan.Pairs.Count, plan.Pairs.Select(pair => pair.Housing).Distinct().Count());
        Assert.Equal(plan.Pairs.Count, plan.Pairs.Select(pair => pair.Valve).Distinct().Count());
        foreach (var pair in plan.Pairs)
        {
            Assert.Contains(pair.Step, problem.Steps);
            Assert.True(Fits(problem, pair.Housing, pair.Valve, pair.Step));
            Assert.Equal(pair.Clearance, problem.Housings[pair.Housing].Size + pair.Step.Enlarges - problem.Valves[pair.Valve].Size);
            Assert.Equal(pair.Clearance - problem.Target, pair.Deviation);
        }
        Assert.Equal(plan.LeastCost.Count == 0 ? 0 : plan.LeastCost[^1], plan.Cost);
    }
}
