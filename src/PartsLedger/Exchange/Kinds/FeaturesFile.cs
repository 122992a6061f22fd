using PartsLedger.Data.Identification;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>What each variant shows for each feature.</summary>
public sealed class FeaturesFile : RowKind<VariantFeatureRow, (int Variant, int Feature)>
{
    private Register<Named> _variants = null!;
    private Register<Named> _features = null!;

    public override string Name => "features";

    public override IReadOnlyList<Column> Columns { get; } = [Column.Key("variant"), Column.Key("feature"), Column.Needed("value")];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) =>
        (_variants, _features) = (await run.Registers.Variants(), await run.Registers.Features());

    protected override VariantFeatureRow Read(RowCells cells) => new()
    {
        VariantId = _variants.Find(cells, "variant")?.Id ?? 0, FeatureId = _features.Find(cells, "feature")?.Id ?? 0,
        Value = cells.Text("value", Limits.Name),
    };

    protected override (int Variant, int Feature) KeyOf(VariantFeatureRow row) => (row.VariantId, row.FeatureId);
}
