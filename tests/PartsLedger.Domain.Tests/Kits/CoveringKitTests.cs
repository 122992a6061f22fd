using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Tests.Kits.Reference;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>One list for whichever of several variants the pump turns out to be: by hand, and against an integer program on random catalogues.</summary>
public sealed class CoveringKitTests
{
    private const int Cases = 100;

    [Fact]
    public void A_piece_serves_every_variant_and_the_larger_need_counts()
    {
        // Both need the ring, one of them two; only one needs the plate. By hand: 2 rings and the plate, 2 + 5.
        var kit = Find(
            new CatalogueDraft().Part("RING").Part("PLATE", 5).Needs("RING", 2),
            new CatalogueDraft().Part("RING").Part("PLATE", 5).Needs("RING").Needs("PLATE"));
        Assert.Equal("1 × PLATE for V-2, 2 × RING for V-1 V-2", Lines(kit));
        Assert.Equal((CatalogueDraft.Money(7), 3), (kit.TotalCost, kit.PiecesShort));

        Assert.Equal([("V-1", "2.00", "5.00"), ("V-2", "6.00", "1.00")], kit.Outcomes.Select(outcome => (outcome.Variant, outcome.OwnCost.ToString(), outcome.Carried.ToString())));
        Assert.Equal(["1 × PLATE", "1 × RING"], kit.Outcomes.Select(outcome => string.Join(", ", outcome.Returns.Select(piece => $"{piece.Quantity} × {piece.Part}"))));
        Assert.Equal(["5.00", "1.00"], kit.Outcomes.Select(outcome => outcome.Returned.ToString()));
        Assert.All(kit.Outcomes, outcome => Assert.True(outcome.Complete));
    }

    [Fact]
    public void A_kit_that_is_dear_for_each_alone_may_be_the_cheapest_for_all()
    {
        // A costs 4 and B costs 4 loose; the kit of both costs 6. Each variant needs one of them: alone loose, together the kit.
        CatalogueDraft Shop() => new CatalogueDraft().Part("A", 4).Part("B", 4).Part("KIT", 6, PartKind.Kit).Holds("KIT", "A").Holds("KIT", "B");
        var kit = Find(Shop().Needs("A"), Shop().Needs("B"));
        Assert.Equal("1 × KIT for V-1 V-2", Lines(kit));
        Assert.Equal(["2.00", "2.00"], kit.Outcomes.Select(outcome => outcome.Carried.ToString()));
        Assert.Equal(["1 × B", "1 × A"], kit.Outcomes.Select(outcome => string.Join(", ", outcome.Loose.Select(piece => $"{piece.Quantity} × {piece.Part}"))));
        Assert.All(kit.Outcomes, outcome => Assert.Empty(outcome.Returns));
    }

    [Fact]
    public void What_is_of_one_pressure_class_serves_only_the_variants_of_that_class()
    {
        // The kit costs 1 and would serve both but for its spring of class A; the loose ring for both costs 3, kit and ring together 4.
        CatalogueDraft Shop() => new CatalogueDraft().Part("KIT A", 1, PartKind.Kit).Holds("KIT A", "RING").Holds("KIT A", "SPRING A")
            .Part("SPRING A", pressureClass: "A").Part("RING", 3).Needs("RING");
        var kit = Find([Shop().Finished(), OfClass(Shop().Finished(), "B")]);
        Assert.Equal("1 × RING for V-1 V-2", Lines(kit));
    }

    [Fact]
    public void One_variant_or_more_than_sixteen_are_refused()
    {
        Assert.Equal("TOO_FEW_VARIANTS", CoveringKit.Find([Draft().Finished()], JobScope.Reseal).Refusal!.Code);
        Assert.Equal("TOO_MANY_VARIANTS", CoveringKit.Find([.. Enumerable.Repeat(Draft().Finished(), 17)], JobScope.Reseal).Refusal!.Code);
        static CatalogueDraft Draft() => new CatalogueDraft().Part("A").Needs("A");
    }

    [Fact]
    public void The_list_is_the_cheapest_there_is_and_covers_every_variant_on_random_catalogues()
    {
        var (compared, incomplete, tooMany) = (0, 0, 0);
        for (var seed = 1; compared < Cases && seed <= 20 * Cases; seed++)
        {
            var (catalogues, scope) = RandomVariants(seed);
            var found = CoveringKit.Find(catalogues, scope, TestContext.Current.CancellationToken);
            if (found.Refusal?.Code == "TOO_MANY_WAYS")
            {
                tooMany++;
                continue;
            }
            Assert.True(found.Succeeded, $"Seed {seed}: {found.Refusal}");
            var kit = found.Result;
            var own = catalogues.Select(catalogue => KitAnswering.Answer(catalogue, new(catalogue.Variant.Code, scope, [])).Result).ToList();
            Assert.Equal(own.Select(answer => answer.Complete), kit.Outcomes.Select(outcome => outcome.Complete));

            // The reference knows only lists that cover everything: where a variant cannot be covered at all, the others are asked again.
            var coverable = catalogues.Where((_, at) => own[at].Complete).ToList();
            if (coverable.Count < CoveringKit.Fewest)
            {
                incomplete++;
                continue;
            }
            kit = CoveringKit.Find(coverable, scope, TestContext.Current.CancellationToken).Result;
            var best = ReferenceCovering.Best(coverable, scope);
            Assert.True((kit.TotalCost.TenThousandths, kit.PiecesShort) == best, $"Seed {seed}: {kit.TotalCost.TenThousandths}, {kit.PiecesShort} short against {best}.");
            Assert.All(kit.Outcomes, outcome => Assert.True(outcome.Carried >= CatalogueDraft.Money(0)));
            compared++;
        }
        Assert.True(compared >= Cases && tooMany < Cases / 10, $"{compared} compared, {incomplete} had something that nobody can supply, {tooMany} had too many ways.");
    }

    /// <summary>The random shop's pump and one to three of its look-alikes: some positions less, other quantities, perhaps another class.</summary>
    private static (IReadOnlyList<KitCatalogue> Catalogues, JobScope Scope) RandomVariants(int seed)
    {
        var (first, question) = RandomCatalogue.Of(seed);
        var random = new Random(seed);
        var catalogues = new List<KitCatalogue> { first };
        for (var more = random.Next(1, 4); more > 0; more--)
            catalogues.Add(first with
            {
                Variant = first.Variant with
                {
                    Code = $"V-{catalogues.Count + 1}", PressureClass = random.Next(4) == 0 ? "B" : first.Variant.PressureClass,
                    Positions = [.. first.Variant.Positions.Where(_ => random.Next(5) > 0)
                        .Select(position => random.Next(4) == 0 ? position with { Quantity = position.Quantity + Quantity.FromWhole(1) } : position)],
                },
            });
        return (catalogues, question.Scope);
    }

    private static KitCatalogue OfClass(KitCatalogue catalogue, string pressureClass) =>
        catalogue with { Variant = catalogue.Variant with { PressureClass = pressureClass } };

    private static CoveringKit Find(params CatalogueDraft[] shops) => Find([.. shops.Select(shop => shop.Finished())]);

    private static CoveringKit Find(IReadOnlyList<KitCatalogue> catalogues) => CoveringKit.Find(
        [.. catalogues.Select((catalogue, at) => catalogue with { Variant = catalogue.Variant with { Code = $"V-{at + 1}" } })], JobScope.Reseal).Result;

    private static string Lines(CoveringKit kit) =>
        string.Join(", ", kit.Lines.Select(line => $"{line.Quantity} × {line.Part} for {string.Join(' ', line.Serves)}"));
}
