using CsCheck;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Domain.Tests.Identification;

public sealed class SightingTests
{
    private static readonly Candidate[] Pumps =
    [
        Pump("P1", ("drive", "pulley"), ("ears", "3"), ("arrow", "right hand")),
        Pump("P2", ("drive", "pulley"), ("ears", "2"), ("arrow", "left hand")),
        Pump("P3", ("drive", "coupling"), ("arrow", "left hand")),
    ];

    [Fact]
    public void What_was_seen_keeps_what_agrees_and_what_is_not_recorded()
    {
        Assert.Equal(["P1", "P3"], Left(("ears", "3")));
        Assert.Equal(["P1"], Left(("EARS ", "3"), (" Drive", "PULLEY")));
        Assert.Equal(["P2", "P3"], Left(("arrow", "Left  Hand")));
        Assert.Equal(["P1", "P2", "P3"], Left());
        Assert.Equal(["P1", "P2", "P3"], Left(("colour", "red")));
        Assert.Null(Sighting.Of(Pumps, [new("ears", "3")]).Contradiction);
        Assert.Null(Sighting.Of([], [new("ears", "3")]).Contradiction);
    }

    [Fact]
    public void One_observation_that_rules_out_everything_is_named_with_what_would_remain()
    {
        var contradiction = Of(("drive", "pulley"), ("ears", "3"), ("arrow", "left hand"));
        Assert.Equal(["drive = pulley", "ears = 3", "arrow = left hand"], contradiction.Smallest.Select(way => Assert.Single(way.Dropped).ToString()));
        Assert.Equal([["P3"], ["P2"], ["P1"]], contradiction.Observations.Select(doubt => doubt.LeftWithout));
        Assert.All(contradiction.Observations, doubt => Assert.False(doubt.FitsNone));
    }

    [Fact]
    public void The_sentence_says_what_to_look_at_again()
    {
        Assert.Equal("Nothing fits all 2 observations. Look again: without arrow = up there would remain P3.",
            Of(("drive", "coupling"), ("arrow", "up")).Sentence);
        Assert.Equal("Nothing fits arrow = up.", Of(("arrow", "up")).Sentence);
        Assert.True(Of(("drive", "coupling"), ("arrow", "up")).Observations[1].FitsNone);
    }

    [Fact]
    public void Where_no_single_one_is_to_blame_the_smallest_sets_are()
    {
        var contradiction = Of(("drive", "belt"), ("arrow", "up"), ("ears", "3"));
        Assert.All(contradiction.Observations, doubt => Assert.Empty(doubt.LeftWithout));
        var way = Assert.Single(contradiction.Smallest);
        Assert.Equal(["drive = belt", "arrow = up"], way.Dropped.Select(seen => seen.ToString()));
        Assert.Equal(["P1", "P3"], way.Left);
    }

    [Fact]
    public void The_smallest_sets_are_those_that_trying_every_set_gives() =>
        Gen.Select(Gen.Int[0, 3].Array[5].Array[1, 6], Gen.Int[1, 3].Array[5].Array[1, 2]).Sample((recorded, answers) =>
        {
            var candidates = recorded.Select((values, at) =>
                new Candidate($"P{at}", 1, null, values.Select((value, feature) => KeyValuePair.Create($"f{feature}", value == 0 ? null : $"{value}")))).ToList();
            var seen = answers.SelectMany(values => values.Select((value, feature) => new Observation($"f{feature}", $"{value}"))).ToList();
            var sighting = Sighting.Of(candidates, seen);
            var ways = Enumerable.Range(0, 1 << seen.Count).Select(dropped => (
                Dropped: seen.Where((_, at) => (dropped >> at & 1) == 1).ToList(),
                Left: candidates.Where(candidate => seen.Where((_, at) => (dropped >> at & 1) == 0).All(candidate.AgreesWith)).Select(candidate => candidate.Variant).ToList()))
                .Where(way => way.Left.Count > 0).ToList();
            var fewest = ways.Min(way => way.Dropped.Count);
            Assert.Equal(fewest == 0, sighting.Contradiction is null);
            if (sighting.Contradiction is not { } contradiction) return;
            Assert.Equal(
                ways.Where(way => way.Dropped.Count == fewest).Select(way => $"{Text(way.Dropped)}: {Text(way.Left)}").Order(StringComparer.Ordinal),
                contradiction.Smallest.Select(way => $"{Text(way.Dropped)}: {Text(way.Left)}").Order(StringComparer.Ordinal));
            Assert.Equal(fewest == 1, contradiction.Observations.Any(doubt => doubt.LeftWithout.Count > 0));
        }, iter: 150);

    private static string Text<T>(IEnumerable<T> things) => string.Join(' ', things);

    private static Candidate Pump(string variant, params (string Feature, string Value)[] values) =>
        new(variant, 1, null, values.Select(value => KeyValuePair.Create(value.Feature, (string?)value.Value)));

    private static Sighting See((string Feature, string Value)[] seen) =>
        Sighting.Of(Pumps, [.. seen.Select(answer => new Observation(answer.Feature, answer.Value))]);

    private static IEnumerable<string> Left(params (string Feature, string Value)[] seen) => See(seen).Left.Select(candidate => candidate.Variant);

    private static Contradiction Of(params (string Feature, string Value)[] seen) =>
        See(seen).Contradiction ?? throw new Xunit.Sdk.XunitException("Something was left.");
}
