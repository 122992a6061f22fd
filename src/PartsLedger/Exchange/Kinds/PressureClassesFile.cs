using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

public sealed class PressureClassesFile : RowKind<PressureClassRow, string>
{
    public override string Name => "pressure-classes";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("code"), Column.Needed("name"), Pressure("relief"), Pressure("minus"), Pressure("plus"),
    ];

    protected override PressureClassRow Read(RowCells cells)
    {
        var code = cells.Code("code");
        var row = new PressureClassRow
        {
            Code = code.Text, CodeKey = code.Key, Name = cells.Text("name", Limits.Name),
            Relief = cells.Pressure("relief"), Minus = cells.Pressure("minus"), Plus = cells.Pressure("plus"),
        };
        if (!cells.IsClean(["relief", "minus", "plus"])) return row;
        if (row.Relief <= Domain.Measures.Pressure.Zero) cells.Reject("relief", "The relief pressure must be above zero.");
        if (row.Minus < Domain.Measures.Pressure.Zero) cells.Reject("minus", "The width below the relief pressure cannot be below zero.");
        else if (row.Minus > row.Relief) cells.Reject("minus", "The width below the relief pressure is greater than the relief pressure itself.");
        if (row.Plus < Domain.Measures.Pressure.Zero) cells.Reject("plus", "The width above the relief pressure cannot be below zero.");
        return row;
    }

    protected override string KeyOf(PressureClassRow row) => row.CodeKey;

    private static Column Pressure(string name) => Column.Measure(name, needed: true, PressureUnits.Kilopascal, PressureUnits.All);
}
