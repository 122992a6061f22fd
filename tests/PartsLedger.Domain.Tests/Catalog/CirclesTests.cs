using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Tests.Catalog;

public sealed class CirclesTests
{
    [Fact]
    public void Arrows_without_a_circle_are_all_kept() =>
        Assert.Empty(Circles.ClosedBy([(1, 2), (1, 3)], [(2, 4), (3, 4), (4, 5), (1, 5)]));

    [Fact]
    public void The_arrow_that_closes_a_circle_is_named_with_its_circle()
    {
        var circle = Assert.Single(Circles.ClosedBy([(1, 2)], [(2, 3), (3, 1), (3, 4)]));
        Assert.Equal(1, circle.Added);
        Assert.Equal([3, 1, 2, 3], circle.Nodes);
    }

    [Fact]
    public void An_arrow_to_itself_is_a_circle()
    {
        var circle = Assert.Single(Circles.ClosedBy([], [(7, 7)]));
        Assert.Equal([7, 7], circle.Nodes);
    }

    [Fact]
    public void What_is_left_out_no_longer_closes_others() =>
        Assert.Equal([2], Circles.ClosedBy([], [(1, 2), (2, 3), (3, 1), (3, 4), (4, 5), (1, 4)]).Select(circle => circle.Added));

    /// <summary>Against a plain check of reachability after each arrow.</summary>
    [Fact]
    public void Random_arrows_lose_the_same_ones_as_when_each_is_tried()
    {
        for (var seed = 0; seed < 300; seed++)
        {
            var random = new Random(seed);
            var arrows = Enumerable.Range(0, 25).Select(_ => (random.Next(9), random.Next(9))).Distinct().ToList();
            var kept = new List<(int From, int To)>();
            var lost = new List<int>();
            for (var at = 0; at < arrows.Count; at++)
                if (Reaches(kept, arrows[at].Item2, arrows[at].Item1)) lost.Add(at);
                else kept.Add(arrows[at]);
            Assert.True(lost.SequenceEqual(Circles.ClosedBy([], arrows).Select(circle => circle.Added)), $"seed {seed}");
        }
    }

    private static bool Reaches(List<(int From, int To)> arrows, int start, int goal)
    {
        var reached = new HashSet<int> { start };
        while (arrows.Exists(arrow => reached.Contains(arrow.From) && reached.Add(arrow.To))) { }
        return reached.Contains(goal);
    }
}
