using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Tests.Kits.Reference;
using static PartsLedger.Domain.Tests.Kits.KitCounter;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>The rules of a kit answer, each on a case small enough to work by hand. Unless said otherwise a part costs 1 and none is on the shelf.</summary>
public sealed class KitAnsweringTests
{
    [Fact]
    public void A_job_renews_what_is_always_renewed_its_groups_and_what_is_worn_each_once_in_order()
    {
        var shop = new CatalogueDraft().Part("A")
            .Needs("A", 1, PartGroup.Seal, RenewRule.Always, position: 9)
            .Needs("A", 1, PartGroup.Rotating, RenewRule.IfWorn, position: 7)
            .Needs("A", 1, PartGroup.Valve, RenewRule.IfWorn, position: 5)
            .Needs("A", 1, PartGroup.Hardware, RenewRule.IfWorn, position: 3)
            .Needs("A", 1, PartGroup.Body, RenewRule.IfWorn, position: 1);

        Assert.Equal([9], Positions(shop, JobScope.Reseal));
        Assert.Equal([7, 9], Positions(shop, JobScope.Rotating));
        Assert.Equal([5, 9], Positions(shop, JobScope.Valve));
        Assert.Equal([3, 5, 7, 9], Positions(shop, JobScope.Full));
        Assert.Equal([1, 7, 9], Positions(shop, JobScope.Rotating, worn: [7, 1, 1, 9]));
        var needs = AnswerOf(shop, JobScope.Rotating, worn: [1]).Needs;
        Assert.Equal(["Found worn.", "Belongs to the rotating group, which this job renews.", "Renewed in every job."], needs.Select(need => need.Why));

        static int[] Positions(CatalogueDraft shop, JobScope scope, params int[] worn) =>
            [.. AnswerOf(shop, scope, worn: worn).Needs.Select(need => need.Position)];
    }

    [Fact]
    public void An_unknown_position_is_refused_with_the_three_nearest()
    {
        var shop = new CatalogueDraft().Part("A");
        foreach (var position in new[] { 1, 2, 14, 41, 70 }) shop.Needs("A", position: position);
        var outcome = KitAnswering.Answer(shop.Finished(), CatalogueDraft.Ask(worn: [14, 44]));
        Assert.Equal("UNKNOWN_POSITION", outcome.Refusal!.Code);
        Assert.Equal("Variant V-1 has no position 44. The nearest known ones are 14, 41 and 1.", outcome.Refusal.ToString());
    }

    [Fact]
    public void A_part_not_sold_separately_comes_out_of_the_kit_that_brings_it()
    {
        var shop = new CatalogueDraft().Part("RING", 1, service: PartService.KitOnly).Part("BAG", 1, PartKind.Hardware).Holds("BAG", "RING")
            .Part("KIT", 5, PartKind.Kit).Holds("KIT", "RING").Needs("RING");
        var answer = AnswerOf(shop);
        Assert.Equal("1 × KIT (1)", Lines(answer));
        Assert.Equal("Kit of 1; covers 1 position and brings RING, which cannot be had loose. "
            + "Nothing else that can be had brings RING. None on the shelf: 1 to order.", answer.Lines.Single().Why);
        Assert.Contains("RING is only sold inside a kit or an assembly.", answer.Needs.Single().Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_sold_only_in_an_assembly_does_not_come_out_of_a_kit()
    {
        var shop = new CatalogueDraft().Part("CAM", service: PartService.AssemblyOnly)
            .Part("KIT", 1, PartKind.Kit).Holds("KIT", "CAM")
            .Part("CARTRIDGE", 50, PartKind.Assembly).Holds("CARTRIDGE", "CAM").Needs("CAM");
        Assert.Equal("1 × CARTRIDGE (1)", Lines(AnswerOf(shop)));

        var without = new CatalogueDraft().Part("CAM", service: PartService.AssemblyOnly)
            .Part("KIT", 1, PartKind.Kit).Holds("KIT", "CAM").Needs("CAM");
        var answer = AnswerOf(without);
        Assert.Equal("1: 1 × CAM", Uncovered(answer));
        Assert.StartsWith("Only sold inside an assembly, and none that brings it can be had for this variant.", answer.Uncovered.Single().Why,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Any_kit_or_assembly_on_the_way_down_will_do()
    {
        // The rollers lie in a bag, the bag in the assembly: they come out of an assembly all the same. A kit inside a bag is a kit.
        var shop = new CatalogueDraft().Part("ROLLER", service: PartService.AssemblyOnly).Part("BAG", 1, PartKind.Hardware).Holds("BAG", "ROLLER", 12)
            .Part("PUMP", 90, PartKind.Assembly).Holds("PUMP", "BAG")
            .Part("RING", service: PartService.KitOnly).Part("KIT", 1, PartKind.Kit, PartService.None).Holds("KIT", "RING")
            .Part("BOX", 7, PartKind.Hardware).Holds("BOX", "KIT")
            .Needs("ROLLER", 12).Needs("RING");
        Assert.Equal("1 × BOX (2), 1 × PUMP (1)", Lines(AnswerOf(shop)));
    }

    [Fact]
    public void What_is_not_to_be_had_at_all_stays_uncovered_even_if_a_pack_holds_it()
    {
        var shop = new CatalogueDraft().Part("OLD RING", service: PartService.None, available: 5)
            .Part("KIT", 5, PartKind.Kit).Holds("KIT", "OLD RING").Needs("OLD RING");
        var answer = AnswerOf(shop);
        Assert.False(answer.Complete);
        Assert.Empty(answer.Lines);
        Assert.Equal("No longer to be had, neither by itself nor inside a pack. "
            + "Look for a sound used piece from a core, or ask the maker's service information for a later number.", answer.Uncovered.Single().Why);
    }

    [Fact]
    public void A_valve_fitted_by_selection_comes_only_with_its_housing()
    {
        var shop = SelectivePump().Part("SLEEVE", 6, PartKind.Assembly).Holds("SLEEVE", "VALVE")
            .Part("PUMP", 200, PartKind.Assembly).Holds("PUMP", "HOUSING").Holds("PUMP", "VALVE");
        var answer = AnswerOf(shop, JobScope.Valve);
        Assert.Equal("1 × PUMP (2)", Lines(answer));
        Assert.Equal("1 × HOUSING", Surplus(answer));
        Assert.Contains("fitted to its housing by selection", answer.Needs.Single().Why, StringComparison.Ordinal);

        // The same shop with a family whose valves may be exchanged takes the loose valve.
        shop.ValveFit = ValveFit.Interchangeable;
        Assert.Equal("1 × VALVE (2)", Lines(AnswerOf(shop, JobScope.Valve)));
    }

    [Fact]
    public void A_matched_pair_of_the_family_and_class_brings_both_halves()
    {
        var shop = SelectivePump().Pair("MP-1", "HOUSING", "VALVE", 80).Pair("MP-2", "HOUSING", "VALVE", 1, family: "F2")
            .Pair("MP-3", "HOUSING", "VALVE", 1, pressureClass: "B").Pair("MP-4", "OTHER HOUSING", "VALVE", 1).Part("OTHER HOUSING");
        var answer = AnswerOf(shop, JobScope.Valve);
        var line = answer.Lines.Single();
        Assert.Equal(("MP-1", "pair", 1L, 0L, "1"), (line.Part, line.Kind, line.Quantity, line.Short, line.Available.ToString()));
        Assert.Equal([2], line.Covers);
        Assert.StartsWith("Matched pair in stock:", line.Why, StringComparison.Ordinal);
        Assert.Equal("", Surplus(AnswerOf(shop, JobScope.Valve, worn: [1])));
    }

    [Fact]
    public void Without_pair_or_assembly_a_selective_valve_is_uncovered_and_the_answer_says_what_to_do()
    {
        var answer = AnswerOf(SelectivePump(), JobScope.Valve);
        Assert.Equal("2: 1 × VALVE", Uncovered(answer));
        Assert.Equal("Fitted to its housing by selection: never sold by itself; a complete assembly or a matched pair brings both, and none can "
            + "be had for this variant. Measure loose valves and housings and propose a pair, or look for a core of this variant.",
            answer.Uncovered.Single().Why);

        var noHousing = new CatalogueDraft().Selective().Part("VALVE", 5, PartKind.Valve).Needs("VALVE");
        Assert.Contains("names no housing", AnswerOf(noHousing).Uncovered.Single().Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_housing_that_replaced_the_variants_own_counts_as_its_housing()
    {
        var shop = SelectivePump().Part("HOUSING 2", 60, PartKind.Housing).Follows("HOUSING", "HOUSING 2")
            .Part("PUMP", 200, PartKind.Assembly).Holds("PUMP", "HOUSING 2").Holds("PUMP", "VALVE");
        Assert.Equal("1 × PUMP (2)", Lines(AnswerOf(shop, JobScope.Valve)));
    }

    [Fact]
    public void A_cheaper_assembly_of_the_wrong_pressure_class_is_never_offered()
    {
        var shop = new CatalogueDraft().Part("ROTOR", service: PartService.AssemblyOnly)
            .Part("LOW", 10, PartKind.Assembly, pressureClass: "B", available: 4).Holds("LOW", "ROTOR")
            .Part("SPRING", 1, PartKind.Spring, pressureClass: "B").Part("NESTED", 11, PartKind.Assembly).Holds("NESTED", "ROTOR").Holds("NESTED", "SPRING")
            .Part("RIGHT", 90, PartKind.Assembly, pressureClass: "A").Holds("RIGHT", "ROTOR").Needs("ROTOR");
        Assert.Equal("1 × RIGHT (1)", Lines(AnswerOf(shop)));

        shop.Contents.RemoveAll(content => content.Pack == new PartNumber("RIGHT"));
        var why = AnswerOf(shop).Uncovered.Single().Why;
        Assert.Contains("LOW and NESTED would bring it but are of another pressure class than A and must not be used.", why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_replaced_by_a_set_is_needed_as_the_set()
    {
        var shop = new CatalogueDraft().Part("SEAL", available: 9).Part("LIP").Part("CUP")
            .Follows("SEAL", "LIP").Follows("SEAL", "CUP", quantity: 2).Needs("SEAL", 3);
        var answer = AnswerOf(shop);
        Assert.Equal("6 × CUP (1), 3 × LIP (1)", Lines(answer));
        Assert.Equal(("SEAL", "3"), (answer.Needs.Single().Part, answer.Needs.Single().Quantity.ToString()));
        Assert.Equal("Renewed in every job. Replaced: 1 × SEAL became 2 × CUP and 1 × LIP.", answer.Needs.Single().Why);
    }

    [Fact]
    public void Quantities_multiply_along_a_chain()
    {
        var shop = new CatalogueDraft().Part("A").Part("B").Part("C").Follows("A", "B", quantity: 2).Follows("B", "C", quantity: 3).Needs("A", 4);
        Assert.Equal("24 × C (1)", Lines(AnswerOf(shop)));
    }

    [Fact]
    public void Pieces_of_an_old_number_are_used_up_from_the_shelf_as_far_as_they_go()
    {
        var shop = new CatalogueDraft().Part("NEW", 5).Part("OLD", 2, available: 3.5m).Follows("OLD", "NEW", SupersessionRule.UseUp).Needs("NEW", 5);
        var answer = AnswerOf(shop);
        Assert.Equal("2 × NEW (1), 3 × OLD (1)", Lines(answer));
        Assert.Equal(2, answer.PiecesShort);
        Assert.Equal("Old number, 3.5 on the shelf: 1 × OLD counts as 1 × NEW.", answer.Lines[1].Why);
    }

    [Theory]
    // Only stock under a number whose own rule is use-up counts; what comes after it is followed under either rule.
    [InlineData(SupersessionRule.Replace, SupersessionRule.UseUp, "2 × B (1), 4 × C (1)")]
    [InlineData(SupersessionRule.UseUp, SupersessionRule.Replace, "2 × A (1), 4 × C (1)")]
    [InlineData(SupersessionRule.UseUp, SupersessionRule.UseUp, "2 × A (1), 2 × B (1), 2 × C (1)")]
    [InlineData(SupersessionRule.Replace, SupersessionRule.Replace, "6 × C (1)")]
    public void Along_a_chain_only_the_stock_of_numbers_to_be_used_up_counts(SupersessionRule first, SupersessionRule second, string expected)
    {
        var shop = new CatalogueDraft().Part("A", 0, available: 2).Part("B", 0, available: 2).Part("C", 1)
            .Follows("A", "B", first).Follows("B", "C", second).Needs("A", 6);
        Assert.Equal(expected, Lines(AnswerOf(shop)));
    }

    [Fact]
    public void An_old_number_inside_a_pack_does_not_count_as_the_new_one_and_the_answer_says_so()
    {
        var shop = new CatalogueDraft().Part("NEW", service: PartService.KitOnly).Part("OLD").Follows("OLD", "NEW", SupersessionRule.UseUp)
            .Part("KIT", 5, PartKind.Kit).Holds("KIT", "OLD").Needs("OLD");
        var answer = AnswerOf(shop);
        Assert.Equal("1: 1 × NEW", Uncovered(answer));
        Assert.Contains("KIT still lists the old number OLD, which does not count as NEW", answer.Uncovered.Single().Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_loose_old_piece_does_not_meet_a_need_that_is_met_only_out_of_packs()
    {
        var shop = new CatalogueDraft().Part("NEW", service: PartService.KitOnly).Part("OLD", 0, available: 9)
            .Follows("OLD", "NEW", SupersessionRule.UseUp).Part("KIT", 5, PartKind.Kit).Holds("KIT", "NEW").Needs("NEW");
        Assert.Equal("1 × KIT (1)", Lines(AnswerOf(shop)));
    }

    [Fact]
    public void An_old_kit_to_be_used_up_counts_as_the_kit_that_replaced_it_and_leaves_no_surplus()
    {
        var shop = new CatalogueDraft().Part("RING", service: PartService.KitOnly).Part("CLIP").Part("KIT 2", 9, PartKind.Kit).Holds("KIT 2", "RING").Holds("KIT 2", "CLIP")
            .Part("KIT 1", 8, PartKind.Kit, available: 1).Follows("KIT 1", "KIT 2", SupersessionRule.UseUp).Needs("RING", 2);
        var answer = AnswerOf(shop);
        Assert.Equal("1 × KIT 1 (1), 1 × KIT 2 (1)", Lines(answer));
        Assert.Equal("1 × CLIP", Surplus(answer));
    }

    [Fact]
    public void A_number_no_longer_supplied_and_not_in_stock_is_uncovered_with_the_reason()
    {
        var answer = AnswerOf(new CatalogueDraft().Part("SHAFT", 30, supplied: false, available: 0.9m).Needs("SHAFT"));
        Assert.Equal("1: 1 × SHAFT", Uncovered(answer));
        Assert.Equal("No longer supplied and none on the shelf. Ask for a later number, or look for pieces elsewhere.", answer.Uncovered.Single().Why);
    }

    [Fact]
    public void What_is_no_longer_supplied_is_used_as_far_as_it_goes_and_later_positions_go_without()
    {
        var answer = AnswerOf(new CatalogueDraft().Part("SHIM", 2, supplied: false, available: 4).Needs("SHIM", 3).Needs("SHIM", 3));
        Assert.Equal("4 × SHIM (1 2)", Lines(answer));
        Assert.Equal("2: 2 × SHIM", Uncovered(answer));
        Assert.StartsWith("Not enough: 6 needed, 4 covered. All that can be had is 4 × SHIM, and no more can be ordered.",
            answer.Uncovered.Single().Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_kits_that_overlap_are_weighed_against_one_and_loose_parts()
    {
        // Both kits: 14 with a ring too many. K1 and D loose: 7 + 8 = 15. K2 and A loose: 7 + 9 = 16. All loose: 9 + 3 + 3 + 8 = 23.
        var shop = new CatalogueDraft().Part("A", 9).Part("B", 3).Part("C", 3).Part("D", 8)
            .Part("K1", 7, PartKind.Kit).Holds("K1", "A").Holds("K1", "B").Holds("K1", "C")
            .Part("K2", 7, PartKind.Kit).Holds("K2", "C").Holds("K2", "D")
            .Needs("A").Needs("B").Needs("C").Needs("D");
        var answer = AnswerOf(shop);
        Assert.Equal("1 × K1 (1 2 3), 1 × K2 (4)", Lines(answer));
        Assert.Equal("1 × C", Surplus(answer));
        Assert.Equal("14.00", answer.TotalCost.ToString());
        Assert.Equal("Kit of 3; covers 3 positions and costs 8.00 less than the parts one by one. None on the shelf: 1 to order.", answer.Lines[0].Why);

        // Once D is to be had for 6, the loose part wins.
        shop.Parts[new("D")] = shop.Parts[new("D")] with { Cost = CatalogueDraft.Money(6) };
        Assert.Equal("1 × D (4), 1 × K1 (1 2 3)", Lines(AnswerOf(shop)));
    }

    [Fact]
    public void A_complete_assembly_that_beats_the_sum_of_its_parts_is_taken()
    {
        var shop = new CatalogueDraft().Part("ROTOR", 40).Part("RING", 45).Part("PLATE", 20)
            .Part("CARTRIDGE", 100, PartKind.Assembly).Holds("CARTRIDGE", "ROTOR").Holds("CARTRIDGE", "RING").Holds("CARTRIDGE", "PLATE")
            .Needs("ROTOR").Needs("RING").Needs("PLATE");
        Assert.Equal("1 × CARTRIDGE (1 2 3)", Lines(AnswerOf(shop)));
        shop.Positions.RemoveAt(2);
        Assert.Equal("1 × RING (2), 1 × ROTOR (1)", Lines(AnswerOf(shop)));
    }

    [Fact]
    public void Nested_packs_are_opened_through_all_levels()
    {
        var shop = new CatalogueDraft().Part("O", 5).Part("SET", 9, PartKind.Hardware).Holds("SET", "O", 2)
            .Part("KIT", 8, PartKind.Kit).Holds("KIT", "SET", 3).Needs("O", 6);
        Assert.Equal("1 × KIT (1)", Lines(AnswerOf(shop)));
    }

    [Fact]
    public void A_needed_pack_can_stay_whole_or_be_opened_for_other_needs()
    {
        var shop = new CatalogueDraft().Part("SCREW", 9).Part("BAG", 5, PartKind.Hardware).Holds("BAG", "SCREW", 4)
            .Needs("BAG").Needs("SCREW", 4);
        // One bag stays whole for its own position, another is opened for the screws.
        var answer = AnswerOf(shop);
        Assert.Equal("2 × BAG (1 2)", Lines(answer));
        Assert.Equal("", Surplus(answer));
        Assert.StartsWith("Pack, 1 kept whole inside as asked for and 1 opened", answer.Lines.Single().Why, StringComparison.Ordinal);

        // With a single bag left, what leaves fewer pieces uncovered comes first.
        shop.Parts[new("BAG")] = shop.Parts[new("BAG")] with { Supplied = false, Available = Quantity.FromWhole(1) };
        shop.Parts[new("SCREW")] = shop.Parts[new("SCREW")] with { Supplied = false };
        Assert.Equal("1: 1 × BAG", Uncovered(AnswerOf(shop)));
    }

    [Fact]
    public void Cost_first_orders_the_kit_and_stock_first_pulls_what_is_there()
    {
        var shop = new CatalogueDraft().Part("A", 6, available: 1).Part("B", 6, available: 1)
            .Part("KIT", 10, PartKind.Kit).Holds("KIT", "A").Holds("KIT", "B").Needs("A").Needs("B");
        Assert.Equal("1 × KIT (1 2)", Lines(AnswerOf(shop)));
        var fromStock = AnswerOf(shop, prefer: KitPreference.Stock);
        Assert.Equal("1 × A (1), 1 × B (2)", Lines(fromStock));
        Assert.Equal(0, fromStock.PiecesShort);
        Assert.Equal("Sold by itself. On the shelf: 1.", fromStock.Lines[0].Why);
    }

    [Fact]
    public void At_equal_cost_fewer_pieces_are_ordered_then_less_is_left_over_then_there_are_fewer_lines()
    {
        var ordered = new CatalogueDraft().Part("A", 5).Part("B", 5, available: 1).Follows("B", "A", SupersessionRule.UseUp).Needs("A");
        Assert.Equal("1 × B (1)", Lines(AnswerOf(ordered)));
        var leftOver = new CatalogueDraft().Part("A", 4).Part("X").Part("K", 4, PartKind.Kit).Holds("K", "A").Holds("K", "X").Needs("A");
        Assert.Equal("1 × A (1)", Lines(AnswerOf(leftOver)));
        var lines = new CatalogueDraft().Part("A", 1, available: 1).Part("B", 1, available: 1).Part("K", 2, PartKind.Kit, available: 2)
            .Holds("K", "A").Holds("K", "B").Needs("A").Needs("B");
        Assert.Equal("1 × K (1 2)", Lines(AnswerOf(lines)));
    }

    [Fact]
    public void Ties_go_to_the_earlier_part_number_however_it_is_written()
    {
        var shop = new CatalogueDraft().Part("RING", service: PartService.KitOnly)
            .Part("k.2", 5, PartKind.Kit).Holds("k.2", "RING").Part("K-10", 5, PartKind.Kit).Holds("K-10", "RING").Needs("RING");
        Assert.Equal("1 × K-10 (1)", Lines(AnswerOf(shop)));
    }

    [Fact]
    public void Free_pieces_on_the_shelf_are_not_taken_without_need()
    {
        var shop = new CatalogueDraft().Part("A", 0, available: 50).Part("OLD", 0, available: 50).Follows("OLD", "A", SupersessionRule.UseUp, 2)
            .Part("B", 0, available: 50).Needs("A", 5).Needs("B", 2);
        Assert.Equal("5 × A (1), 2 × B (2)", Lines(AnswerOf(shop)));
    }

    [Fact]
    public void A_fluid_in_fractions_is_bought_in_whole_bottles_and_covers_several_positions()
    {
        var shop = new CatalogueDraft().Part("FLUID", 4, PartKind.Fluid).Needs("FLUID", 0.95m).Needs("FLUID", 0.95m).Needs("FLUID", 0.2m);
        var answer = AnswerOf(shop);
        Assert.Equal("3 × FLUID (1 2 3)", Lines(answer));
        // A loose supply leaves nothing that nobody asked for; a box of four does.
        Assert.Equal("", Surplus(answer));
        shop.Part("BOX", 9, PartKind.Hardware).Holds("BOX", "FLUID", 4);
        Assert.Equal("1.9 × FLUID", Surplus(AnswerOf(shop)));
    }

    [Fact]
    public void The_worked_example_of_the_documentation_comes_out_as_printed()
    {
        var answer = AnswerOf(WorkedExample.Shop(), JobScope.Rotating);
        Assert.Equal(WorkedExample.Printed, WorkedExample.Print(answer));
        Assert.Contains(WorkedExample.Printed, File.ReadAllText(WorkedExample.Page()), StringComparison.Ordinal);
    }

    private static CatalogueDraft SelectivePump() => new CatalogueDraft().Selective()
        .Part("HOUSING", 70, PartKind.Housing).Part("VALVE", 5, PartKind.Valve)
        .Needs("HOUSING", 1, PartGroup.Body, RenewRule.IfWorn).Needs("VALVE", 1, PartGroup.Valve, RenewRule.IfWorn);
}
