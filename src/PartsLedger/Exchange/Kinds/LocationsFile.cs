using PartsLedger.Data.Stock;
using PartsLedger.Domain.Stock;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>The places in the shop.</summary>
public sealed class LocationsFile : RowKind<LocationRow, string>
{
    public override string Name => "locations";

    public override IReadOnlyList<Column> Columns { get; } = [Column.Key("code"), Column.Needed("name"), Column.Needed("kind")];

    protected override LocationRow Read(RowCells cells)
    {
        var code = cells.Code("code");
        return new LocationRow { Code = code.Text, CodeKey = code.Key, Name = cells.Text("name", Limits.Name), Kind = cells.Word<LocationKind>("kind") };
    }

    protected override string KeyOf(LocationRow row) => row.CodeKey;
}
