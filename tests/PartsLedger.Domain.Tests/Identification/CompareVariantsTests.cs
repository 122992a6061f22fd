using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Identification;

public sealed class CompareVariantsTests
{
    private static readonly ComparedVariant Right = new("VX-R", "VX", "N", [Position(1, "Shaft seal", "20-1104"), Position(7, "Cam ring", "20-2105")],
        [new("ears", "3"), new("arrow", "right hand")], [new("Haldrin", "Skerry 19", null, 1999, 2009), new("Haldrin", "Tern", "port", null, null)]);

    private static readonly ComparedVariant Left = new("VX-L", "vx", "H", [Position(1, "Shaft seal", "201104"), Position(7, "Cam ring", "20-2106"), Position(9, "Roller", "20-2107", 12)],
        [new("Ears", "3"), new("arrow", "left hand"), new("tag", "B")], [new("haldrin", "SKERRY 19", "", 2010, null)]);

    [Fact]
    public void Only_what_differs_is_shown_unless_all_is_asked_for()
    {
        var comparison = CompareVariants.Compare([Right, Left]).Result;
        Assert.Equal(["VX-R", "VX-L"], comparison.Variants);
        Assert.Equal(
        [
            "PressureClass Pressure class: N | H",
            "Position 7 Cam ring: 1 × 20-2105 | 1 × 20-2106",
            "Position 9 Roller: - | 12 × 20-2107",
            "Feature arrow: right hand | left hand",
            "Feature tag: - | B",
            "UsedIn Haldrin Skerry 19: 1999 to 2009 | since 2010",
            "UsedIn Haldrin Tern, port: used | -",
        ], comparison.Rows.Select(Text));
        Assert.Equal(3, comparison.Same);

        var all = CompareVariants.Compare([Right, Left], onlyDifferences: false).Result;
        Assert.Equal(["Family Family: VX | vx", "Position 1 Shaft seal: 1 × 20-1104 | 1 × 201104", "Feature ears: 3 | 3"],
            all.Rows.Where(row => !row.Differs).Select(Text));
        Assert.Equal(comparison.Rows.Select(Text), all.Rows.Where(row => row.Differs).Select(Text));
    }

    [Fact]
    public void A_difference_between_any_two_of_six_counts()
    {
        ComparedVariant[] six = [.. Enumerable.Range(0, 6).Select(at => Right with { Code = $"V{at}", PressureClass = at == 4 ? null : "N" })];
        var row = Assert.Single(CompareVariants.Compare(six).Result.Rows);
        Assert.Equal("PressureClass Pressure class: N | N | N | N | - | N", Text(row));
    }

    [Fact]
    public void Another_quantity_of_the_same_part_is_a_difference() =>
        Assert.Equal(["Position 1 Shaft seal: 1 × 20-1104 | 2 × 20-1104"], CompareVariants.Compare(
            [Right, Right with { Code = "V2", Positions = [Position(1, "Shaft seal", "20-1104", 2), Right.Positions[1]] }]).Result.Rows.Select(Text));

    [Fact]
    public void Too_few_too_many_and_the_same_are_refused()
    {
        Assert.Equal("TOO_FEW_VARIANTS", CompareVariants.Compare([]).Refusal?.Code);
        Assert.Equal("TOO_FEW_VARIANTS", CompareVariants.Compare([Right]).Refusal?.Code);
        Assert.Equal("TOO_MANY_VARIANTS", CompareVariants.Compare([.. Enumerable.Range(0, 7).Select(at => Right with { Code = $"V{at}" })]).Refusal?.Code);
        Assert.Equal("SAME_VARIANT", CompareVariants.Compare([Right, Left, Right with { Code = " vx-r" }]).Refusal?.Code);
    }

    private static ComparedPosition Position(int number, string name, string part, long pieces = 1) =>
        new(number, name, new PartNumber(part), Quantity.FromWhole(pieces));

    private static string Text(ComparedRow row) => $"{row.Aspect} {row.Name}: {string.Join(" | ", row.Values.Select(value => value ?? "-"))}";
}
