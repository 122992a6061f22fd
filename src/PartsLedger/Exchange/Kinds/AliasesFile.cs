using PartsLedger.Data.Catalog;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Other numbers of parts. A number may be the alias of several parts, and may be a part's own number as well.</summary>
public sealed class AliasesFile : RowKind<AliasRow, (string, int)>
{
    private Register<NamedPart> _parts = null!;

    public override string Name => "aliases";

    public override IReadOnlyList<Column> Columns { get; } = [Column.Key("number"), Column.Key("part"), Column.Optional("source")];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) => _parts = await run.Registers.Parts();

    protected override AliasRow Read(RowCells cells)
    {
        var number = cells.Number("number");
        return new AliasRow
        {
            Number = number.Text, NumberKey = number.Key, PartId = _parts.Find(cells, "part")?.Id ?? 0,
            Source = cells.OptionalText("source", Limits.Name),
        };
    }

    protected override (string, int) KeyOf(AliasRow row) => (row.NumberKey, row.PartId);
}
