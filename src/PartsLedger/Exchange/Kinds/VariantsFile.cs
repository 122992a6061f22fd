using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Variants of pumps. Two of one family, class and rotation may share a production range or follow one another, never overlap.</summary>
public sealed class VariantsFile : RowKind<VariantRow, string>
{
    private Register<Named> _families = null!;
    private Register<Named> _classes = null!;

    public override string Name => "variants";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("code"), Column.Needed("family"), Column.Needed("pressure_class"), Column.Optional("built_from"), Column.Optional("built_to"),
        Column.Optional("serial_from"), Column.Optional("serial_to"), Column.Optional("rotation"), Column.Optional("note"),
    ];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) =>
        (_families, _classes) = (await run.Registers.Families(), await run.Registers.PressureClasses());

    protected override VariantRow Read(RowCells cells)
    {
        var code = cells.Code("code");
        var row = new VariantRow
        {
            Code = code.Text, CodeKey = code.Key, FamilyId = _families.Find(cells, "family")?.Id ?? 0,
            PressureClassId = _classes.Find(cells, "pressure_class")?.Id ?? 0,
            BuiltFrom = cells.OptionalDay("built_from", lastOfPeriod: false), BuiltTo = cells.OptionalDay("built_to", lastOfPeriod: true),
            SerialFrom = cells.OptionalText("serial_from", Limits.Code), SerialTo = cells.OptionalText("serial_to", Limits.Code),
            Rotation = cells.OptionalText("rotation", Limits.Code), Note = cells.OptionalText("note", Limits.Text, manyLines: true),
        };
        if (row.BuiltFrom > row.BuiltTo) cells.RejectReversed("built_from", "built_to");
        if (row is { SerialFrom: { } first, SerialTo: { } last } && SerialNumber.AreComparable(first, last) && SerialNumber.Compare(first, last) > 0)
            cells.RejectReversed("serial_from", "serial_to");
        return row;
    }

    protected override string KeyOf(VariantRow row) => row.CodeKey;

    protected override void Judge(KindRun run, IReadOnlyList<Judged<VariantRow, string>> rows, IReadOnlyDictionary<string, VariantRow> kept)
    {
        // A row refused here leaves what the database has, which may overlap with another: until nothing changes any more.
        while (RefuseOverlaps(run, rows, kept)) { }
    }

    private static bool RefuseOverlaps(KindRun run, IReadOnlyList<Judged<VariantRow, string>> rows, IReadOnlyDictionary<string, VariantRow> kept)
    {
        var standing = rows.Where(row => !run.IsRejected(row.Line)).ToList();
        var restated = standing.Select(row => row.Key).ToHashSet(StringComparer.Ordinal);
        var accepted = new Dictionary<(int, int, string), List<(VariantRow Row, string Where)>>();
        foreach (var (key, row) in kept)
            if (!restated.Contains(key)) Of(row).Add((row, "in the database"));

        var refused = false;
        foreach (var (line, row, _) in standing)
        {
            var neighbours = Of(row);
            var overlapped = neighbours.Find(neighbour => RangeOf(neighbour.Row).Overlaps(RangeOf(row)));
            if (overlapped.Row is null)
            {
                neighbours.Add((row, $"in line {line}"));
                continue;
            }
            run.Reject(line, row.BuiltFrom is null && row.BuiltTo is null ? "serial_from" : "built_from",
                $"The production range of {row.Code} overlaps that of {overlapped.Row.Code} ({overlapped.Where}), of the same family, class and rotation; a pump must belong to one of them.");
            refused = true;
        }
        return refused;

        List<(VariantRow Row, string Where)> Of(VariantRow row)
        {
            var group = (row.FamilyId, row.PressureClassId, Code.KeyOf(row.Rotation));
            if (!accepted.TryGetValue(group, out var list)) accepted.Add(group, list = []);
            return list;
        }
    }

    private static ProductionRange RangeOf(VariantRow row) => new(row.BuiltFrom, row.BuiltTo, row.SerialFrom, row.SerialTo);
}
