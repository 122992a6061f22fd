using System.Diagnostics;
using CsCheck;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>The pure solver against trying everything, objective and tie-break, and at its edges.</summary>
public sealed class KitSolverTests
{
    [Fact]
    public void It_gives_the_very_answer_that_trying_everything_gives() =>
        Problems(supplies: 4, modes: 1, demand: 4).Sample(problem => Same(TryEverything(problem), KitSolver.Solve(problem)), iter: 3_000, print: Print);

    [Fact]
    public void It_does_so_too_where_supplies_can_be_used_in_two_ways() =>
        Problems(supplies: 3, modes: 2, demand: 2).Sample(problem => Same(TryEverything(problem), KitSolver.Solve(problem)), iter: 1_000, print: Print);

    [Fact]
    public void Where_nothing_is_wanted_nothing_is_used()
    {
        var solution = KitSolver.Solve(new([0, 0], [new(0, [CoverMode.Covering(new ItemPieces(0, 1))], 5, null, false)]));
        Assert.Equal(new CoverObjective(0, 0, 0, 0, 0), solution.Objective);
        Assert.Equal([0L], solution.Quantities.Single());
    }

    [Fact]
    public void What_nothing_covers_is_left_uncovered() =>
        Assert.Equal([7L], KitSolver.Solve(new([7], [])).Uncovered);

    [Fact]
    public void A_limited_supply_with_two_uses_covers_the_larger_need()
    {
        // Kept whole it covers one piece of item 0, opened five of item 1; there is one of it.
        var pack = new CoverSupply(100, [CoverMode.Covering(new ItemPieces(0, 1)), CoverMode.Covering(new ItemPieces(1, 5))], 1, 1, true);
        var solution = KitSolver.Solve(new([1, 5], [pack]));
        Assert.Equal([0L, 1L], solution.Quantities.Single());
        Assert.Equal([1L, 0L], solution.Uncovered);
    }

    [Fact]
    public void Thirty_independent_ties_cost_no_more_than_thirty_times_one()
    {
        var supplies = Enumerable.Range(0, 60).Select(at => new CoverSupply(5, [CoverMode.Covering(new ItemPieces(at / 2, 1))], 1, null, false));
        var solution = KitSolver.Solve(new([.. Enumerable.Repeat(1L, 30)], [.. supplies]));
        Assert.Equal(new CoverObjective(0, 150, 0, 0, 30), solution.Objective);
        Assert.All(Enumerable.Range(0, 60), at => Assert.Equal(1 - at % 2, solution.Quantities[at].Single()));
        Assert.InRange(solution.Nodes, 1, 1_000);
    }

    [Fact]
    public void Thirty_ties_under_one_dear_kit_that_holds_everything_stay_cheap_too()
    {
        var supplies = Enumerable.Range(0, 60).Select(at => new CoverSupply(5, [CoverMode.Covering(new ItemPieces(at / 2, 1))], 1, null, false))
            .Append(new CoverSupply(151, [CoverMode.Covering([.. Enumerable.Range(0, 30).Select(item => new ItemPieces(item, 1))])], 1, null, true));
        var solution = KitSolver.Solve(new([.. Enumerable.Repeat(1L, 30)], [.. supplies]));
        Assert.Equal(new CoverObjective(0, 150, 0, 0, 30), solution.Objective);
        Assert.All(Enumerable.Range(0, 60), at => Assert.Equal(1 - at % 2, solution.Quantities[at].Single()));
        Assert.InRange(solution.Nodes, 1, 5_000);
    }

    [Fact]
    public void Large_quantities_need_no_large_search()
    {
        // 100 000 pieces in packs of 997 or 10, each cheap in its way: 100 of the large leave 300, which 30 of the small bring.
        var solution = KitSolver.Solve(new([100_000],
            [new(990, [CoverMode.Covering(new ItemPieces(0, 997))], 0, null, true), new(10, [CoverMode.Covering(new ItemPieces(0, 10))], 0, null, true)]));
        Assert.Equal(new CoverObjective(0, 99_300, 130, 0, 2), solution.Objective);
        Assert.Equal([[100L], [30L]], solution.Quantities);
    }

    [Theory]
    [InlineData(1_000_000_000_000)]
    [InlineData(1_000_000_000_000_000)]
    [InlineData(100_000_000_000_000_000)]
    public void Figures_beyond_64_and_beyond_128_bits_are_held_exactly(long huge)
    {
        var solution = KitSolver.Solve(new([3, 2],
        [
            new(huge + 1, [new([new(0, 1), new(1, 1)], [new(0, 1), new(1, 1)], huge)], 0, null, true),
            new(huge, [CoverMode.Covering(new ItemPieces(0, 1))], 0, null, false),
            new(2, [new([new(1, 1)], [new(1, 1)], huge - 1)], 0, null, true),
        ]));
        Assert.Equal(new CoverObjective(0, 3 * huge + 2, 3, 2 * huge, 2), solution.Objective);
    }

    [Fact]
    public void Unsound_numbers_are_refused()
    {
        Assert.Throws<ArgumentException>(() => KitSolver.Solve(new([-1], [])));
        Assert.Throws<ArgumentException>(() => KitSolver.Solve(new([1], [new(-1, [CoverMode.Covering()], 0, null, false)])));
        Assert.Throws<ArgumentException>(() => KitSolver.Solve(new([1], [new(1, [CoverMode.Covering(new ItemPieces(1, 1))], 0, null, false)])));
        Assert.Throws<ArgumentException>(() => KitSolver.Solve(new([1], [new(1, [], 0, null, false)])));
    }

    [Fact]
    public void A_search_without_end_stops_soon_after_it_is_cancelled()
    {
        // The Steiner system of 81 points: hours of work. Three copies of the 27, which are three copies of the 9 (see SetCoverTests).
        var triples = SetCoverTests.Tripled(SetCoverTests.Tripled(SetCoverTests.Nine, 9), 27);
        var supplies = Enumerable.Range(1, 81).Select(point => new CoverSupply(1, [CoverMode.Covering(
            [.. Enumerable.Range(0, triples.Length).Where(at => triples[at].Contains(point)).Select(at => new ItemPieces(at, 1))])], 1, 1, false));
        using var cancellation = new CancellationTokenSource();
        var cancelled = 0L;
        using var noted = cancellation.Token.Register(() => cancelled = Stopwatch.GetTimestamp());
        cancellation.CancelAfter(TimeSpan.FromMilliseconds(200));
        Assert.Throws<OperationCanceledException>(() =>
            KitSolver.Solve(new([.. Enumerable.Repeat(1L, triples.Length)], [.. supplies]), cancellation.Token));
        // From when the clock came to say so: that can take long itself where every thread is at work. The search looks every few milliseconds.
        Assert.NotEqual(0, cancelled);
        Assert.InRange(Stopwatch.GetElapsedTime(cancelled), TimeSpan.Zero, TimeSpan.FromSeconds(5));
    }

    private static Gen<CoverProblem> Problems(int supplies, int modes, int demand) =>
        from items in Gen.Int[1, 3]
        from wanted in Gen.Long[0, demand].Array[items]
        from costs in OneOf<long[]>([0], [1], [0, 1], [1, 2, 3])
        from offered in Supply(items, modes, costs).Array[1, supplies]
        from shortFirst in Gen.Bool
        select new CoverProblem(wanted, offered, shortFirst);

    private static Gen<CoverSupply> Supply(int items, int most, long[] costs) =>
        from isPack in Gen.Bool
        from modes in Mode(items, isPack).Array[1, most]
        from cost in OneOf(costs)
        from inStock in Gen.Long[0, 3]
        from isLimited in Gen.Bool
        select new CoverSupply(cost, modes, inStock, isLimited ? inStock : null, isPack);

    private static Gen<CoverMode> Mode(int items, bool isPack) =>
        from pieces in Gen.Long[0, 3].Array[items]
        from mayCover in Gen.Bool.Array[items]
        from unneeded in Gen.Long[0, 1]
        let all = Enumerable.Range(0, items).Where(item => pieces[item] > 0).Select(item => new ItemPieces(item, pieces[item])).ToList()
        select new CoverMode([.. all.Where(entry => mayCover[entry.Item])], isPack ? all : [], isPack ? unneeded : 0);

    private static string Print(CoverProblem problem) => System.Text.Json.JsonSerializer.Serialize(problem);

    private static Gen<T> OneOf<T>(params T[] choices) => Gen.Int[0, choices.Length - 1].Select(at => choices[at]);

    private static bool Same(CoverSolution expected, CoverSolution actual)
    {
        Assert.Equal(expected.Objective, actual.Objective);
        Assert.Equal(expected.Uncovered.Sum(), actual.Uncovered.Sum());
        Assert.Equal(expected.Quantities, actual.Quantities);
        return true;
    }

    /// <summary>All quantities that could be of use, one after the other, the ones the tie-break prefers first.</summary>
    private static CoverSolution TryEverything(CoverProblem problem)
    {
        CoverSolution? best = null;
        var chosen = problem.Supplies.Select(supply => new long[supply.Modes.Count]).ToArray();
        Choose(0);
        return best!;

        void Choose(int at)
        {
            if (at == chosen.Length)
            {
                var solution = CoverAudit.Describe(problem, [.. chosen.Select(modes => modes.ToArray())], 0);
                if ((best is null || Compare(solution.Objective, best.Objective) < 0) && !HasIdleUnit(solution)) best = solution;
                return;
            }
            var supply = problem.Supplies[at];
            // Per mode no more units can be of use than the largest demand has pieces; what rides along for nothing comes from stock.
            var most = Math.Max(supply.InStock, problem.Demand.Max() * supply.Modes.Count);
            most = Math.Min(supply.Limit ?? most, most);
            for (var total = most; total >= 0; total--)
                for (var first = total; first >= (chosen[at].Length == 1 ? total : 0); first--)
                {
                    chosen[at][0] = first;
                    if (chosen[at].Length == 2) chosen[at][1] = total - first;
                    Choose(at + 1);
                }
            Array.Clear(chosen[at]);
        }

        int Compare(CoverObjective left, CoverObjective right) => Levels(left).CompareTo(Levels(right));

        (long, long, long, long, long) Levels(CoverObjective objective) => problem.ShortBeforeCost
            ? (objective.Uncovered, objective.Short, objective.Cost, objective.Surplus, objective.Lines)
            : (objective.Uncovered, objective.Cost, objective.Short, objective.Surplus, objective.Lines);

        bool HasIdleUnit(CoverSolution solution)
        {
            for (var at = 0; at < chosen.Length; at++)
                for (var mode = 0; mode < chosen[at].Length && !problem.Supplies[at].IsPack; mode++)
                {
                    if (solution.Quantities[at][mode] == 0) continue;
                    var less = solution.Quantities.Select(modes => modes.ToArray()).ToArray();
                    less[at][mode]--;
                    if (CoverAudit.Describe(problem, less, 0).Uncovered.Sum() == solution.Uncovered.Sum()) return true;
                }
            return false;
        }
    }
}
