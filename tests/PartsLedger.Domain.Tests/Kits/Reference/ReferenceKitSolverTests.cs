using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using Xunit;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>The reference is trusted because these were worked out by hand, not because it agrees with the program.</summary>
public sealed class ReferenceKitSolverTests
{
    [Fact]
    public void No_needs_cost_nothing() =>
        ShouldBe(new CatalogueDraft().Part("S1").Needs("S1", renew: RenewRule.IfWorn), uncovered: 0, cost: 0, ordered: 0, surplus: 0,
            lines: 0);

    [Fact]
    public void One_seal_with_one_of_two_on_the_shelf_is_one_short() =>
        ShouldBe(new CatalogueDraft().Part("S1", 2.5m, available: 1).Needs("S1", 2), uncovered: 0, cost: 5, ordered: 1, surplus: 0,
            lines: 1);

    [Fact]
    public void What_is_stock_only_stays_uncovered_beyond_the_shelf() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", 2, available: 1.7m, supplied: false).Needs("S1", 3),
            uncovered: 2, cost: 2, ordered: 0, surplus: 0, lines: 1);

    [Fact]
    public void A_fraction_needs_a_whole_piece_and_a_loose_piece_leaves_no_surplus() =>
        ShouldBe(
            new CatalogueDraft().Part("F1", 8, PartKind.Fluid, available: 1.9m).Needs("F1", 0.95m).Needs("F1", 0.5m),
            uncovered: 0, cost: 16, ordered: 1, surplus: 0, lines: 1);

    [Fact]
    public void A_kit_that_costs_as_much_as_its_parts_is_taken_for_its_single_line() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", 1).Part("S2", 2).Part("K1", 3, PartKind.Kit, available: 0).Holds("K1", "S1").Holds("K1", "S2")
                .Part("S3", 1, available: 9).Needs("S1").Needs("S2").Needs("S3"),
            uncovered: 0, cost: 4, ordered: 1, surplus: 0, lines: 2);

    [Fact]
    public void What_a_kit_holds_beyond_the_need_is_surplus() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", 5, service: PartService.KitOnly).Part("S2", 1).Part("K1", 3, PartKind.Kit, available: 1)
                .Holds("K1", "S1", 3).Holds("K1", "S2", 0.5m).Needs("S1", 2),
            uncovered: 0, cost: 3, ordered: 0, surplus: 1.5m, lines: 1);

    [Fact]
    public void The_preference_decides_between_a_dear_piece_at_hand_and_a_cheap_one_to_order()
    {
        CatalogueDraft draft() => new CatalogueDraft().Part("S1", 2).Part("K1", 9, PartKind.Kit, available: 1)
            .Holds("K1", "S1", 2).Needs("S1");
        ShouldBe(draft(), uncovered: 0, cost: 2, ordered: 1, surplus: 0, lines: 1);
        ShouldBe(draft(), uncovered: 0, cost: 9, ordered: 0, surplus: 1, lines: 1, prefer: KitPreference.Stock);
    }

    [Fact]
    public void Nothing_is_left_uncovered_to_save_money() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", service: PartService.AssemblyOnly).Part("S2", 1)
                .Part("K1", 2, PartKind.Kit).Holds("K1", "S1").Holds("K1", "S2")
                .Part("A1", 500, PartKind.Assembly).Holds("A1", "K1").Holds("A1", "K1X").Part("K1X", 7, PartKind.Tool)
                .Needs("S1").Needs("S2"),
            uncovered: 0, cost: 500, ordered: 1, surplus: 1, lines: 1);

    [Fact]
    public void A_bag_is_no_kit_for_a_part_that_comes_in_kits_only() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", service: PartService.KitOnly).Part("B1", 1, PartKind.Hardware).Holds("B1", "S1").Needs("S1"),
            uncovered: 1, cost: 0, ordered: 0, surplus: 0, lines: 0);

    [Fact]
    public void A_kit_inside_a_bag_is_a_kit() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", service: PartService.KitOnly).Part("B1", 1, PartKind.Hardware).Holds("B1", "K1", 2)
                .Part("K1", 1, PartKind.Kit, PartService.None).Holds("K1", "S1").Needs("S1"),
            uncovered: 0, cost: 1, ordered: 1, surplus: 1, lines: 1);

    [Fact]
    public void What_is_not_to_be_had_at_all_is_not_had_out_of_an_assembly_either() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", service: PartService.None).Part("A1", 1, PartKind.Assembly).Holds("A1", "S1").Needs("S1"),
            uncovered: 1, cost: 0, ordered: 0, surplus: 0, lines: 0);

    [Fact]
    public void The_cheap_assembly_of_another_class_is_not_offered_however_deep_the_class_is_hidden() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", 10, pressureClass: CatalogueDraft.Class).Needs("S1")
                .Part("A1", 1, PartKind.Assembly).Holds("A1", "S1").Holds("A1", "B1")
                .Part("B1", 1, PartKind.Hardware).Holds("B1", "X1").Part("X1", 1, PartKind.Spring, pressureClass: "B"),
            uncovered: 0, cost: 10, ordered: 1, surplus: 0, lines: 1);

    [Fact]
    public void Old_stock_is_used_up_as_the_set_that_replaced_it() =>
        ShouldBe(
            new CatalogueDraft().Part("X1", 1, service: PartService.None, available: 1.5m, supplied: false).Part("S1", 4).Part("S2", 3)
                .Follows("X1", "S1", SupersessionRule.UseUp, 2).Follows("X1", "S2", SupersessionRule.UseUp).Needs("X1", 2),
            uncovered: 0, cost: 1 + (2 * 4) + 3, ordered: 3, surplus: 0, lines: 3);

    [Fact]
    public void Along_a_chain_only_stock_that_its_own_rule_uses_up_counts() =>
        ShouldBe(
            new CatalogueDraft().Part("X1", 1, available: 5).Part("X2", 1, available: 1).Part("S1", 10)
                .Follows("X1", "X2").Follows("X2", "S1", SupersessionRule.UseUp, 2).Needs("X1", 2),
            uncovered: 0, cost: 1 + 20, ordered: 2, surplus: 0, lines: 2);

    [Fact]
    public void Stock_used_up_counts_as_what_a_later_replacement_made_of_it() =>
        ShouldBe(
            new CatalogueDraft().Part("X1", 1, available: 5).Part("X2", 1, available: 5).Part("S1", 10)
                .Follows("X1", "X2", SupersessionRule.UseUp).Follows("X2", "S1").Needs("X2", 3),
            uncovered: 0, cost: 3, ordered: 0, surplus: 0, lines: 1);

    [Fact]
    public void Old_numbers_inside_a_kit_do_not_count_as_the_new_ones() =>
        ShouldBe(
            new CatalogueDraft().Part("X1", 1).Part("S1", 10).Follows("X1", "S1").Part("K1", 1, PartKind.Kit).Holds("K1", "X1").Needs("X1"),
            uncovered: 0, cost: 10, ordered: 1, surplus: 0, lines: 1);

    [Fact]
    public void A_selective_valve_comes_with_the_housing_or_not_at_all()
    {
        CatalogueDraft draft() => new CatalogueDraft().Selective()
            .Part("H0", 60, PartKind.Housing).Part("H1", 60, PartKind.Housing).Follows("H0", "H1").Part("V1", 5, PartKind.Valve)
            .Needs("V1").Needs("H0", renew: RenewRule.IfWorn);
        ShouldBe(draft(), uncovered: 1, cost: 0, ordered: 0, surplus: 0, lines: 0);
        ShouldBe(
            draft().Part("A1", 90, PartKind.Assembly, available: 2).Holds("A1", "V1").Holds("A1", "H1"),
            uncovered: 0, cost: 90, ordered: 0, surplus: 1, lines: 1);
        ShouldBe(
            draft().Part("A1", 90, PartKind.Assembly).Holds("A1", "V1").Holds("A1", "H1").Pair("P1", "H0", "V1", 70)
                .Pair("P2", "H1", "V1", 1, family: "F2").Pair("P3", "H1", "V1", 2, pressureClass: "B"),
            uncovered: 0, cost: 70, ordered: 0, surplus: 1, lines: 1);
    }

    [Fact]
    public void A_pair_is_used_once_and_counts_as_an_assembly() =>
        ShouldBe(
            new CatalogueDraft().Part("H1", 60, PartKind.Housing).Part("V1", 50, PartKind.Valve, PartService.AssemblyOnly)
                .Pair("P1", "H1", "V1", 7).Pair("P2", "H1", "V1", 8).Needs("V1", 3),
            uncovered: 1, cost: 15, ordered: 0, surplus: 2, lines: 2);

    [Fact]
    public void A_needed_kit_is_kept_whole_in_one_assembly_and_opened_in_the_other() =>
        ShouldBe(
            new CatalogueDraft().Part("S1", 50, service: PartService.KitOnly)
                .Part("K1", 40, PartKind.Kit, PartService.KitOnly).Holds("K1", "S1")
                .Part("A1", 10, PartKind.Assembly, available: 1).Holds("A1", "K1").Needs("K1").Needs("S1"),
            uncovered: 0, cost: 20, ordered: 1, surplus: 0, lines: 1);

    [Fact]
    public void Scope_and_worn_positions_add_their_needs_once()
    {
        CatalogueDraft draft() => new CatalogueDraft().Part("S1", 1).Part("R1", 10).Part("V1", 100).Part("H1", 1000).Part("B1", 10_000)
            .Needs("S1").Needs("R1", group: PartGroup.Rotating, renew: RenewRule.IfWorn)
            .Needs("V1", group: PartGroup.Valve, renew: RenewRule.IfWorn).Needs("H1", group: PartGroup.Hardware, renew: RenewRule.IfWorn)
            .Needs("B1", group: PartGroup.Body, renew: RenewRule.IfWorn);
        foreach (var (scope, cost) in new[] { (JobScope.Reseal, 1), (JobScope.Rotating, 11), (JobScope.Valve, 101), (JobScope.Full, 1111) })
            Assert.Equal(cost * 10_000L, ReferenceKitSolver.Best(draft().Finished(), CatalogueDraft.Ask(scope)).CostTenThousandths);
        Assert.Equal(
            10_011_0000L,
            ReferenceKitSolver.Best(draft().Finished(), CatalogueDraft.Ask(JobScope.Rotating, [5, 2, 5, 1])).CostTenThousandths);
    }

    private static void ShouldBe(
        CatalogueDraft draft, decimal uncovered, decimal cost, long ordered, decimal surplus, long lines,
        KitPreference prefer = KitPreference.Cost) =>
        Assert.Equal(
            new(CatalogueDraft.Pieces(uncovered).Thousandths, CatalogueDraft.Money(cost).TenThousandths, ordered,
                CatalogueDraft.Pieces(surplus).Thousandths, lines),
            ReferenceKitSolver.Best(draft.Finished(), CatalogueDraft.Ask(prefer: prefer)));
}
