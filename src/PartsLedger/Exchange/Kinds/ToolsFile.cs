using PartsLedger.Data.Kits;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Special tools of a family or of one variant.</summary>
public sealed class ToolsFile : RowKind<ToolRow, (int? Family, int? Variant, string Name)>
{
    private Register<Named> _families = null!;
    private Register<Named> _variants = null!;

    public override string Name => "tools";

    public override IReadOnlyList<Column> Columns { get; } =
        [Column.OptionalKey("family"), Column.OptionalKey("variant"), Column.Key("name"), Column.Optional("note")];

    public override IReadOnlyList<string> OneOf => ["family", "variant"];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) =>
        (_families, _variants) = (await run.Registers.Families(), await run.Registers.Variants());

    protected override ToolRow Read(RowCells cells)
    {
        var (family, variant) = cells.Owner(_families, _variants);
        var name = cells.Text("name", Limits.Name);
        return new ToolRow
        {
            FamilyId = family, VariantId = variant, Name = name, NameKey = Code.KeyOf(name), Note = cells.OptionalText("note", Limits.Text, manyLines: true),
        };
    }

    protected override (int? Family, int? Variant, string Name) KeyOf(ToolRow row) => (row.FamilyId, row.VariantId, row.NameKey);
}
