using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using Xunit;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>A comparison on random catalogues proves nothing about a rule that no catalogue touches.</summary>
public sealed class RandomCatalogueTests
{
    private const int Seeds = 400;

    [Fact]
    public void The_same_seed_gives_the_same_catalogue() =>
        Assert.All(Enumerable.Range(1, 20), seed => Assert.Equal(Written(seed), Written(seed)));

    [Fact]
    public void Different_seeds_give_different_catalogues() =>
        Assert.Equal(100, Enumerable.Range(1, 100).Select(Written).Distinct().Count());

    [Fact]
    public void Every_edge_of_the_rules_is_met_often_enough()
    {
        var met = Edges.ToDictionary(edge => edge.Name, _ => 0);
        for (var seed = 1; seed <= Seeds; seed++)
        {
            var (catalogue, question) = RandomCatalogue.Of(seed);
            var demand = ReferenceDemand.Of(catalogue, question);
            var scene = new Scene(
                catalogue, demand, [.. ReferenceSupplies.Of(catalogue, demand)], ReferenceKitSolver.Best(catalogue, question));
            foreach (var (name, isMet) in Edges)
                if (isMet(scene)) met[name]++;
        }
        Assert.All(met, edge => Assert.True(edge.Value >= Seeds / 50, $"{edge.Key}: only {edge.Value} of {Seeds}"));
    }

    [Fact]
    public void Catalogues_stay_small_and_their_measures_exact() => Assert.All(Enumerable.Range(1, Seeds), seed =>
    {
        var (catalogue, question) = RandomCatalogue.Of(seed);
        var demand = ReferenceDemand.Of(catalogue, question);
        Assert.InRange(catalogue.Variant.Positions.Count, 3, 24);
        Assert.InRange(ReferenceSupplies.Of(catalogue, demand).Count(), 0, 28);
        // Packs are needed in whole pieces only: what half an assembly would be, no rule says.
        var packs = demand.Where(item => catalogue.Contents.Any(content => content.Pack == item.Key));
        Assert.All(packs, pack => Assert.True(pack.Value.IsWhole));
    });

    private static (string Name, Func<Scene, bool> IsMet)[] Edges =>
    [
        ("something uncovered", scene => scene.Best.UncoveredThousandths > 0),
        ("complete", scene => scene.Demand.Count > 0 && scene.Best.UncoveredThousandths == 0),
        ("free of charge", scene => scene.Best is { CostTenThousandths: 0, Lines: > 0 }),
        ("something to order", scene => scene.Best.Short > 0),
        ("surplus", scene => scene.Best.SurplusThousandths > 0),
        ("five lines or more", scene => scene.Best.Lines >= 5),
        ("a needed pack that can be kept whole", scene => scene.Supplies.Any(supply => supply.Ways.Count > 1)),
        ("old stock to use up", scene => scene.Supplies.Any(supply => supply is { CountsSurplus: false, Limit: > 0 })),
        ("a pair to use", scene => scene.Supplies.Any(supply => supply.Name.StartsWith("MP-", StringComparison.Ordinal))),
        ("stock only", scene => scene.Supplies.Any(supply => supply.Limit is not null)),
        ("a fraction needed", scene => scene.Demand.Values.Any(quantity => !quantity.IsWhole)),
        ("a nested pack", scene => scene.Catalogue.Contents.Any(outer => scene.Catalogue.Contents.Any(inner => inner.Pack == outer.Part))),
        ("an old number in a pack", scene => scene.Catalogue.Contents.Any(
            content => scene.Catalogue.Supersessions.Any(step => step.Old == content.Part))),
        ("a set", scene => scene.Catalogue.Supersessions.GroupBy(step => step.Old).Any(steps => steps.Count() > 1)),
        ("a chain of both rules", scene => scene.Catalogue.Supersessions.Any(
            first => scene.Catalogue.Supersessions.Any(second => second.Old == first.New && second.Rule != first.Rule))),
        ("a selective valve that can be had", scene => scene.IsSelective
            && scene.Supplies.Any(supply => supply.Ways.Any(way => way.Covers.Keys.Any(scene.IsValve)))),
        ("a selective valve that cannot be had", scene => scene.IsSelective && scene.Demand.Keys.Where(scene.IsValve)
            .Any(valve => !scene.Supplies.Any(supply => supply.Ways.Any(way => way.Covers.ContainsKey(valve))))),
        ("a needed kit-only part", scene => scene.Demand.Keys.Any(item => scene.Catalogue.Parts[item].Service == PartService.KitOnly)),
        ("a needed assembly-only part", scene => scene.Demand.Keys.Any(
            item => scene.Catalogue.Parts[item].Service == PartService.AssemblyOnly)),
        ("a needed part not to be had", scene => scene.Demand.Keys.Any(item => scene.Catalogue.Parts[item].Service == PartService.None)),
        ("a pack that brings what it may not cover", scene => scene.Supplies.Any(supply => supply.Ways.Any(
            way => way.Brings.Keys.Any(part => scene.Demand.ContainsKey(part) && !way.Covers.ContainsKey(part))))),
        ("a pack left out for its class", scene => scene.Catalogue.Parts.Values.Any(part =>
            part is { PressureClass: "B", Service: PartService.Separate }
                && scene.Catalogue.Contents.Any(content => content.Pack == part.Number))),
    ];

    private static string Written(int seed)
    {
        var (catalogue, question) = RandomCatalogue.Of(seed);
        return CatalogueText.Of(catalogue, question);
    }

    private sealed record Scene(
        KitCatalogue Catalogue, IReadOnlyDictionary<PartNumber, Quantity> Demand, IReadOnlyList<ReferenceSupply> Supplies,
        KitObjective Best)
    {
        public bool IsSelective => Catalogue.Variant.ValveFit == ValveFit.Selective;
        public bool IsValve(PartNumber number) => Catalogue.Parts[number].Kind == PartKind.Valve;
    }
}
