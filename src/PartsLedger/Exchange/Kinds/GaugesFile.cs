using PartsLedger.Data.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>The gauge register: what measures, how well (expanded uncertainty, k = 2), and until when that is vouched for.</summary>
public sealed class GaugesFile : RowKind<GaugeRow, string>
{
    public override string Name => "gauges";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("code"), Column.Needed("kind"), Column.Measure("uncertainty", needed: true, LengthUnits.Micrometre, LengthUnits.All),
        Column.Optional("calibrated_on"), Column.Optional("due_on"),
    ];

    protected override GaugeRow Read(RowCells cells)
    {
        var code = cells.Code("code");
        var row = new GaugeRow
        {
            Code = code.Text, CodeKey = code.Key, Kind = cells.Text("kind", Limits.Name), Uncertainty = cells.OptionalLength("uncertainty") ?? Length.Zero,
            CalibratedOn = cells.OptionalDay("calibrated_on", lastOfPeriod: false), DueOn = cells.OptionalDay("due_on", lastOfPeriod: true),
        };
        if (cells.IsEmpty("uncertainty")) cells.Missing("uncertainty");
        else if (row.Uncertainty <= Length.Zero && cells.IsClean(["uncertainty"])) cells.Reject("uncertainty", "The uncertainty must be above zero.");
        if (row.CalibratedOn > row.DueOn) cells.RejectReversed("calibrated_on", "due_on");
        return row;
    }

    protected override string KeyOf(GaugeRow row) => row.CodeKey;
}
