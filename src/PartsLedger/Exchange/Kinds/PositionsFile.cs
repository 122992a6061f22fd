using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange.Reading;
using PartsLedger.Stock;

namespace PartsLedger.Exchange.Kinds;

/// <summary>The parts lists of the variants.</summary>
public sealed class PositionsFile : RowKind<PositionRow, (int Variant, int Position)>
{
    private Register<Named> _variants = null!;
    private Register<NamedPart> _parts = null!;

    public override string Name => "positions";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("variant"), Column.Key("position"), Column.Needed("name"), Column.Needed("part"), Column.Needed("quantity"),
        Column.Needed("group"), Column.Needed("renew"),
    ];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) =>
        (_variants, _parts) = (await run.Registers.Variants(), await run.Registers.Parts());

    protected override PositionRow Read(RowCells cells)
    {
        var (variant, position) = (_variants.Find(cells, "variant"), cells.Whole("position", 1, 100_000));
        var (part, quantity) = (_parts.Find(cells, "part"), cells.Quantity("quantity"));
        if (part is not null && PieceUnit.IsWhole(part.Unit)) cells.RequireWhole("quantity", quantity, part.Number, part.Unit);
        return new PositionRow
        {
            VariantId = variant?.Id ?? 0, Position = position, Name = cells.Text("name", Limits.Name), PartId = part?.Id ?? 0, Quantity = quantity,
            PartGroup = cells.Word<PartGroup>("group"), Renew = cells.Word<RenewRule>("renew"),
        };
    }

    protected override (int Variant, int Position) KeyOf(PositionRow row) => (row.VariantId, row.Position);
}
