using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>What can be asked of a proposal, case by case.</summary>
public sealed class PairingSolverTests
{
    [Fact]
    public void Empty_sides_give_no_pairs()
    {
        Assert.Equal(0, Solve(new([], [], 12, 15, 18)).Count);
        Assert.Equal(0, Solve(new([new(30, 0)], [], 12, 15, 18)).Count);
        Assert.Equal(0, Solve(new([], [new(15, 0)], 12, 15, 18)).Count);
    }

    [Fact]
    public void Guards_narrow_the_band_from_both_ends()
    {
        Assert.Equal(1, Solve(new([new(116, 1)], [new(100, 3)], 12, 15, 20)).Count);
        Assert.Equal(0, Solve(new([new(116, 2)], [new(100, 3)], 12, 15, 20)).Count);
    }

    [Fact]
    public void A_pair_that_came_together_is_kept_while_it_fits_even_where_others_would_be_better()
    {
        var problem = new PairingProblem([new(115, 0), new(117, 0)], [new(100, 0), new(102, 0)], 12, 15, 18) { KeepTogether = [(0, 1), (1, 0)] };
        var answer = Solve(problem);
        Assert.Equal([(0, 1, true), (1, 0, true)], answer.Pairs.Select(pair => (pair.Housing, pair.Valve, pair.CameTogether)));
        Assert.Equal([(0, 0, false), (1, 1, false)], Solve(problem with { Minimum = 15, KeepTogether = [(0, 1)] }).Pairs.Select(pair => (pair.Housing, pair.Valve, pair.CameTogether)));
    }

    [Fact]
    public void A_housing_with_a_class_takes_only_valves_of_it()
    {
        var answer = Solve(new([new(115, 0, 2), new(115, 0)], [new(100, 0, 1), new(100, 0, 3)], 12, 15, 18));
        Assert.Equal([1], answer.Pairs.Select(pair => pair.Housing));
    }

    [Fact]
    public void The_job_served_first_gets_the_only_housing()
    {
        var problem = new PairingProblem([new(115, 0)], [new(100, 0, 1), new(101, 0, 2)], 12, 15, 18);
        Assert.Equal(0, Solve(problem).Pairs.Single().Valve);
        var served = Solve(problem with { ServeFirst = [new(2, 3), new(1, 1)] });
        Assert.Equal(1, served.Pairs.Single().Valve);
        Assert.Equal([1, 0], served.Served);
    }

    [Fact]
    public void Of_its_own_valves_a_job_takes_those_that_leave_room_for_the_next_job()
    {
        var problem = new PairingProblem([new(115, 0), new(125, 0)], [new(100, 0, 1), new(110, 0, 1), new(100, 0, 2)], 12, 15, 18) { ServeFirst = [new(1, 1), new(2, 1)] };
        Assert.Equal([1, 1], Solve(problem).Served);
    }

    [Fact]
    public void A_kept_pair_counts_towards_the_jobs()
    {
        var problem = new PairingProblem([new(115, 0), new(115, 0)], [new(100, 0, 1), new(100, 0, 1), new(100, 0, 2)], 12, 15, 18)
        {
            KeepTogether = [(0, 0)], ServeFirst = [new(1, 1), new(2, 1)],
        };
        var answer = Solve(problem);
        Assert.Equal([1, 1], answer.Served);
        Assert.Equal([0, 2], answer.Pairs.Select(pair => pair.Valve));
    }

    [Fact]
    public void A_reserved_housing_is_left_idle_rather_than_given_to_another_class()
    {
        var problem = new PairingProblem([new(115, 0), new(125, 0)], [new(100, 0, 1), new(110, 0, 1)], 12, 15, 18) { Reserve = [new(2, 1)] };
        var answer = Solve(problem);
        Assert.Single(answer.Pairs);
        Assert.Equal([(0, 2)], answer.ReservedHousings);
    }

    [Fact]
    public void The_class_a_housing_is_reserved_for_chooses_what_its_valves_need()
    {
        var problem = new PairingProblem([new(115, 0), new(125, 0)], [new(110, 0, 2), new(110, 0, 1), new(100, 0, 1)], 12, 15, 18) { Reserve = [new(2, 1)] };
        var answer = Solve(problem);
        Assert.Equal([(1, 2)], answer.ReservedHousings);
        Assert.Equal([(0, 2), (1, 0)], answer.Pairs.Select(pair => (pair.Housing, pair.Valve)));
    }

    [Fact]
    public void A_reserve_takes_no_more_than_it_asks_for_when_every_pair_is_at_the_target()
    {
        var problem = new PairingProblem([new(115, 0), new(125, 0), new(135, 0)], [new(100, 0, 2), new(110, 0, 2), new(120, 0, 2)], 12, 15, 18) { Reserve = [new(2, 1)] };
        var answer = PairingSolver.Solve(problem, TestContext.Current.CancellationToken);
        Assert.Single(answer.ReservedHousings);
        Assert.Equal(3, answer.Count);
    }

    [Fact]
    public void A_reserve_beyond_its_valves_keeps_the_housings_that_others_miss_least()
    {
        var problem = new PairingProblem([new(115, 0), new(215, 0)], [new(100, 0, 1)], 12, 15, 18) { Reserve = [new(2, 1)] };
        var answer = Solve(problem);
        Assert.Equal([(1, 2)], answer.ReservedHousings);
        Assert.Single(answer.Pairs);
    }

    [Theory]
    [InlineData(0, 0, 12, 11, 18)]
    [InlineData(0, 0, 12, 19, 18)]
    [InlineData(0, -1, 12, 15, 18)]
    [InlineData(2_000_000_000_000, 0, 12, 15, 18)]
    [InlineData(0, 0, 12, 15, 2_000_000_000_000)]
    public void A_number_out_of_range_is_refused(long size, long guard, long minimum, long target, long maximum) =>
        Assert.Throws<ArgumentException>(() => Solve(new([new(size, guard)], [], minimum, target, maximum)));

    [Fact]
    public void A_half_in_two_pairs_to_keep_together_is_refused() =>
        Assert.Throws<ArgumentException>(() => Solve(new([new(115, 0)], [new(100, 0), new(100, 0)], 12, 15, 18) { KeepTogether = [(0, 0), (0, 1)] }));

    [Fact]
    public void A_cancelled_search_stops()
    {
        LooseHalf[] halves = [.. Enumerable.Range(0, 50).Select(size => new LooseHalf(size, size % 3))];
        Assert.Throws<OperationCanceledException>(() => PairingSolver.Solve(new(halves, halves, -20, 0, 20), new CancellationToken(canceled: true)));
    }

    private static PairingAnswer Solve(PairingProblem problem) => PairingSolver.Solve(problem, TestContext.Current.CancellationToken);
}
