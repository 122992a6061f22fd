using PartsLedger.Data.Identification;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>What can be looked at to tell variants apart, and what looking costs.</summary>
public sealed class FeatureGuideFile : RowKind<FeatureRow, string>
{
    private const int SecondsPerDay = 86_400;

    public override string Name => "feature-guide";

    public override IReadOnlyList<Column> Columns { get; } =
        [Column.Key("feature"), Column.Needed("question"), Column.Needed("seconds"), Column.Optional("teardown")];

    protected override FeatureRow Read(RowCells cells)
    {
        var code = cells.Code("feature");
        return new FeatureRow
        {
            Code = code.Text, CodeKey = code.Key, Question = cells.Text("question", Limits.Text, manyLines: true),
            Seconds = cells.Whole("seconds", 0, SecondsPerDay), Teardown = cells.YesNo("teardown", ifEmpty: false),
        };
    }

    protected override string KeyOf(FeatureRow row) => row.CodeKey;
}
