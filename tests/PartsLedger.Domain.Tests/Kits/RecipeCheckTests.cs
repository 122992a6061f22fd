using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Tests.Kits.Reference;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>A recipe held against a variant, each rule on a case small enough to work by hand.</summary>
public sealed class RecipeCheckTests
{
    [Fact]
    public void A_kit_that_holds_what_every_position_asks_for_covers_the_scope()
    {
        var verdict = Check(Shop().Needs("SEAL").Needs("RING", 4).Needs("ROTOR", group: PartGroup.Rotating, renew: RenewRule.IfWorn),
            JobScope.Reseal, ("SEAL", 1), ("RING", 6));
        Assert.True(verdict.Covers);
        Assert.Equal("2 × RING", string.Join(", ", verdict.Surplus.Select(left => $"{left.Quantity} × {left.Part}")));
        Assert.Empty(verdict.Breaches);
    }

    [Fact]
    public void What_is_missing_is_named_by_position_and_nothing_else_in_the_shop_makes_up_for_it()
    {
        var shop = Shop().Needs("SEAL").Needs("RING", 4).Needs("ROTOR", group: PartGroup.Rotating, renew: RenewRule.IfWorn);
        shop.Parts[new("RING")] = shop.Parts[new("RING")] with { Available = Quantity.FromWhole(100) };
        var verdict = Check(shop, JobScope.Rotating, ("SEAL", 1), ("RING", 3));
        Assert.False(verdict.Covers);
        Assert.Equal(["2: 1 × RING. The kit holds 3, which is not enough.", "3: 1 × ROTOR. Not in the recipe."],
            verdict.Uncovered.Select(left => $"{left.Position}: {left.Quantity} × {left.Part}. {left.Why}"));
    }

    [Fact]
    public void A_position_is_followed_to_todays_number_and_an_old_number_in_the_kit_does_not_count()
    {
        var shop = Shop().Part("OLD").Needs("OLD").Follows("OLD", "SEAL");
        Assert.True(Check(shop, JobScope.Reseal, ("SEAL", 1)).Covers);
        var old = Check(shop, JobScope.Reseal, ("OLD", 1));
        Assert.Equal("The recipe lists the old number OLD, which does not count as SEAL.", Assert.Single(old.Uncovered).Why);
        Assert.Equal(["REPLACED_NUMBER"], old.Breaches.Select(breach => breach.Code));
    }

    [Fact]
    public void What_lies_in_a_kit_within_counts()
    {
        var shop = Shop().Part("INNER", kind: PartKind.Kit).Part("VANE", kind: PartKind.Rotating, service: PartService.KitOnly)
            .Holds("INNER", "VANE", 10).Needs("VANE", 10);
        Assert.True(Check(shop, JobScope.Reseal, ("INNER", 1)).Covers);
    }

    [Fact]
    public void A_valve_of_a_selective_family_never_goes_into_a_kit_even_with_a_housing()
    {
        var shop = Shop().Selective().Part("VALVE", kind: PartKind.Valve).Part("HOUSING", kind: PartKind.Housing)
            .Needs("VALVE").Needs("HOUSING");
        Assert.Equal(["VALVE_IS_FITTED"], Check(shop, JobScope.Reseal, ("HOUSING", 1), ("VALVE", 1)).Breaches.Select(breach => breach.Code));
        shop.ValveFit = ValveFit.Interchangeable;
        Assert.Empty(Check(shop, JobScope.Reseal, ("HOUSING", 1), ("VALVE", 1)).Breaches);
    }

    [Fact]
    public void Parts_of_two_classes_and_parts_of_another_class_than_the_variants_are_breaches_at_any_depth()
    {
        var shop = Shop().Part("INNER", kind: PartKind.Kit).Part("SPRING-A", kind: PartKind.Spring, pressureClass: "A")
            .Part("SPRING-B", kind: PartKind.Spring, pressureClass: "B").Holds("INNER", "SPRING-B").Needs("SPRING-A");
        var verdict = Check(shop, JobScope.Reseal, ("SPRING-A", 1), ("INNER", 1));
        Assert.Equal(["TWO_CLASSES", "OTHER_CLASS"], verdict.Breaches.Select(breach => breach.Code));
        Assert.False(verdict.Covers);
        Assert.StartsWith("The kit holds SPRING-B of class B", Assert.Single(verdict.Uncovered).Why, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(PartService.AssemblyOnly, "NOT_SERVICED")]
    [InlineData(PartService.None, "NOT_SERVICED")]
    [InlineData(PartService.KitOnly, null)]
    public void Only_what_may_be_had_in_a_kit_goes_into_one(PartService service, string? code) => Assert.Equal(code,
        Check(Shop().Part("X", service: service).Needs("X"), JobScope.Reseal, ("X", 1)).Breaches.SingleOrDefault()?.Code);

    private static CatalogueDraft Shop() => new CatalogueDraft().Part("KIT", kind: PartKind.Kit).Part("SEAL").Part("RING").Part("ROTOR");

    private static RecipeVerdict Check(CatalogueDraft shop, JobScope scope, params (string Part, int Pieces)[] recipe) => RecipeCheck.Of(shop.Finished(),
        new(new("KIT"), [.. recipe.Select(line => new RecipeLine(new(line.Part), Quantity.FromWhole(line.Pieces)))]), scope,
        TestContext.Current.CancellationToken);
}
