using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

public sealed class PartsFile : RowKind<PartRow, string>
{
    private const int MostLeadDays = 3650;

    private Register<Named> _classes = null!;

    public override string Name => "parts";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("number"), Column.Needed("name"), Column.Needed("kind"), Column.Optional("service"), Column.Optional("pressure_class"),
        Column.Optional("tracking"), Column.Optional("unit"), Column.Optional("cost"), Column.Optional("price"), Column.Optional("lead_days"),
        Column.Optional("supplied"),
    ];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) => _classes = await run.Registers.PressureClasses();

    protected override PartRow Read(RowCells cells)
    {
        var number = cells.Number("number");
        return new PartRow
        {
            Number = number.Text, NumberKey = number.Key, Name = cells.Text("name", Limits.Name), Kind = cells.Word<PartKind>("kind"),
            Service = cells.Word("service", PartService.Separate), PressureClassId = _classes.FindIfGiven(cells, "pressure_class")?.Id,
            Tracking = cells.Word("tracking", Tracking.Bulk), Unit = cells.OptionalText("unit", Limits.Word) ?? "pc",
            Cost = cells.OptionalMoney("cost") ?? Money.Zero, Price = cells.OptionalMoney("price"),
            LeadDays = cells.OptionalWhole("lead_days", 0, MostLeadDays), Supplied = cells.YesNo("supplied", ifEmpty: true),
        };
    }

    protected override string KeyOf(PartRow row) => row.NumberKey;
}
