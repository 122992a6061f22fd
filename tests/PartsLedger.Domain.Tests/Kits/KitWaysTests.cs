using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Tests.Kits.Reference;
using static PartsLedger.Domain.Tests.Kits.KitCounter;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>The best list for each way of helping a customer, on a shop small enough to work by hand.</summary>
public sealed class KitWaysTests
{
    // One by one 3 + 4 × 1 = 7, the kit brings both for 5, the assembly the plate and the seal for 9, the dear one everything for 30.
    private static CatalogueDraft Shop() => new CatalogueDraft()
        .Part("SEAL", 3).Part("RING", 1).Part("PLATE", 8, PartKind.Plate).Part("KIT", 5, PartKind.Kit).Part("SMALL", 9, PartKind.Assembly).Part("LARGE", 30, PartKind.Assembly)
        .Holds("KIT", "SEAL").Holds("KIT", "RING", 4).Holds("SMALL", "PLATE").Holds("SMALL", "SEAL")
        .Holds("LARGE", "PLATE").Holds("LARGE", "SEAL").Holds("LARGE", "RING", 4)
        .Needs("SEAL").Needs("RING", 4).Needs("PLATE", group: PartGroup.Rotating, renew: RenewRule.IfWorn);

    [Fact]
    public void Repair_with_kits_uses_no_assembly_and_repair_with_an_assembly_uses_the_one_that_does_best()
    {
        var (catalogue, question) = (Shop().Finished(), CatalogueDraft.Ask(JobScope.Rotating));
        Assert.Equal("1 × KIT (1 2), 1 × PLATE (3)", Lines(KitWays.WithKit(catalogue, question).Result));
        var assembly = KitWays.WithAssembly(catalogue, question).Result;
        Assert.Equal("4 × RING (2), 1 × SMALL (1 3)", Lines(assembly));
        Assert.Equal(13, assembly.TotalCost.ToDecimal());
        Assert.Empty(KitAnswerChecker.Breaches(catalogue, question, KitAnswering.Answer(catalogue, question).Result));
    }

    [Fact]
    public void Only_one_of_the_assembly_is_taken_in_any_case_and_its_cost_counts()
    {
        var shop = Shop();
        shop.Needs("SEAL");
        var answer = KitWays.WithAssembly(shop.Finished(), CatalogueDraft.Ask(JobScope.Rotating)).Result;
        Assert.Equal("1 × KIT (1 2), 1 × SMALL (3 4)", Lines(answer));
        Assert.Equal(14, answer.TotalCost.ToDecimal());
    }

    [Fact]
    public void An_assembly_that_brings_nothing_that_is_needed_is_no_way()
    {
        var shop = new CatalogueDraft().Part("SEAL").Part("PLATE").Part("ASM", kind: PartKind.Assembly).Holds("ASM", "PLATE").Needs("SEAL");
        Assert.Equal("NO_ASSEMBLY", KitWays.WithAssembly(shop.Finished(), CatalogueDraft.Ask()).Refusal!.Code);
    }

    [Fact]
    public void An_exchange_unit_needs_every_position() =>
        Assert.Equal([1, 2, 3], KitWays.Exchange(Shop().Finished(), CatalogueDraft.Ask()).Result.Needs.Select(need => need.Position));
}
