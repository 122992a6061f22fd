using PartsLedger.Data.Kits;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Assembly and test checks of a family or of one variant.</summary>
public sealed class ChecksFile : RowKind<CheckRow, (int? Family, int? Variant, int Sequence)>
{
    private Register<Named> _families = null!;
    private Register<Named> _variants = null!;

    public override string Name => "checks";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.OptionalKey("family"), Column.OptionalKey("variant"), Column.Key("sequence"), Column.Needed("text"), Column.Optional("expected"),
        Column.Optional("unit"), Column.Optional("low"), Column.Optional("high"),
    ];

    public override IReadOnlyList<string> OneOf => ["family", "variant"];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) =>
        (_families, _variants) = (await run.Registers.Families(), await run.Registers.Variants());

    protected override CheckRow Read(RowCells cells)
    {
        var (family, variant) = cells.Owner(_families, _variants);
        var row = new CheckRow
        {
            FamilyId = family, VariantId = variant, Sequence = cells.Whole("sequence", 0, 1_000_000), Text = cells.Text("text", Limits.Text, manyLines: true),
            Expected = cells.OptionalText("expected", Limits.Name), Unit = cells.OptionalText("unit", Limits.Word),
            LowMillionths = cells.OptionalMillionths("low"), HighMillionths = cells.OptionalMillionths("high"),
        };
        if (row.LowMillionths > row.HighMillionths) cells.RejectReversed("low", "high");
        return row;
    }

    protected override (int? Family, int? Variant, int Sequence) KeyOf(CheckRow row) => (row.FamilyId, row.VariantId, row.Sequence);
}
