using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange.Reading;
using PartsLedger.Identification;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Which machines carry which variant, in which model years.</summary>
public sealed class ApplicationsFile : RowKind<ApplicationRow, (string, string, int, string, int)>
{
    private Register<Named> _variants = null!;
    private int _lastBefore;

    public override string Name => "applications";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("make"), Column.Key("model"), Column.Key("year_from"), Column.Optional("year_to"), Column.OptionalKey("option"), Column.Key("variant"),
    ];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation)
    {
        _variants = await run.Registers.Variants();
        _lastBefore = await run.Db.Applications.MaxAsync(row => (int?)row.Id, cancellation) ?? 0;
    }

    // An application that is known already keeps its words: they follow from the key it is known by.
    protected override Task Finish(KindRun run, CancellationToken cancellation) => SearchKeys.IndexMachines(run.Db, _lastBefore, cancellation);

    protected override ApplicationRow Read(RowCells cells)
    {
        var (make, model, option) = (cells.Code("make"), cells.Code("model"), cells.OptionalText("option", Limits.Code) ?? "");
        var row = new ApplicationRow
        {
            Make = make.Text, MakeKey = make.Key, Model = model.Text, ModelKey = model.Key, Option = option, OptionKey = Code.KeyOf(option),
            YearFrom = cells.Whole("year_from", Limits.FirstYear, Limits.LastYear),
            YearTo = cells.OptionalWhole("year_to", Limits.FirstYear, Limits.LastYear), VariantId = _variants.Find(cells, "variant")?.Id ?? 0,
        };
        if (row.YearTo < row.YearFrom && cells.IsClean(["year_from"])) cells.RejectReversed("year_from", "year_to");
        return row;
    }

    protected override (string, string, int, string, int) KeyOf(ApplicationRow row) =>
        (row.MakeKey, row.ModelKey, row.YearFrom, row.OptionKey, row.VariantId);
}
