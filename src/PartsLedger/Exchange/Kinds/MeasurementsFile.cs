using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>
/// Measurements of tagged units. They are only ever added: the same unit, characteristic and moment with other readings is refused, since
/// nothing that was measured is overwritten.
/// </summary>
public sealed class MeasurementsFile : FileKind<MeasurementRow, (int Unit, Characteristic Characteristic, DateTimeOffset TakenAt)>
{
    private Register<Named> _units = null!;
    private Register<Named> _gauges = null!;
    private Dictionary<int, (UnitRole Role, Length? Bore)> _roles = [];

    public override string Name => "measurements";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("unit"), Column.Key("characteristic"), Column.Key("taken_at"), Column.Needed("gauge"),
        Column.Measure("temperature", needed: true, TemperatureUnits.Celsius, TemperatureUnits.All),
        Column.Measure("readings", needed: true, LengthUnits.Millimetre, LengthUnits.All),
    ];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation)
    {
        (_units, _gauges) = (await run.Registers.Units(), await run.Registers.Gauges());
        _roles = await run.Db.Units.AsNoTracking().Select(row => new { row.Id, row.Role, row.Family.Bore })
            .ToDictionaryAsync(row => row.Id, row => (row.Role, row.Bore), cancellation);
    }

    protected override MeasurementRow Read(RowCells cells)
    {
        var unit = _units.Find(cells, "unit");
        var characteristic = cells.Word<Characteristic>("characteristic");
        var readings = cells.Lengths("readings");
        if (unit is not null && (_roles[unit.Id].Role == UnitRole.Housing) != (characteristic == Characteristic.Bore))
            cells.Reject("characteristic", $"{unit.Code} is a {Words.Of(_roles[unit.Id].Role)}; its {(characteristic == Characteristic.Bore ? "spool" : "bore")} is what is measured.");

        if (unit is not null && readings.Select((reading, at) => Plausible.Reading(reading, _roles[unit.Id].Bore, $"Reading {at + 1}")).FirstOrDefault(odd => odd is not null) is { } far)
            cells.Reject("readings", far.ToString());
        else if (readings.Count > 1 && Plausible.Spread(readings.Min(), readings.Max()) is { } spread) cells.Reject("readings", spread.ToString());
        var temperature = cells.MilliCelsius("temperature");
        if (Plausible.Temperature(temperature) is { } cold) cells.Reject("temperature", cold.ToString());
        var row = new MeasurementRow
        {
            UnitId = unit?.Id ?? 0, Characteristic = characteristic, TakenAt = Moment(cells), GaugeId = _gauges.Find(cells, "gauge")?.Id ?? 0,
            MilliCelsius = temperature, Who = "import",
        };
        for (var at = 0; at < readings.Count; at++) row.Readings.Add(new ReadingRow { Sequence = at + 1, Diameter = readings[at] });
        return row;
    }

    /// <summary>A moment with its zone, or in UTC when none is written; kept to the microsecond.</summary>
    private static DateTimeOffset Moment(RowCells cells)
    {
        if (cells.IsEmpty("taken_at")) cells.Missing("taken_at");
        else if (DateTimeOffset.TryParse(cells.Raw("taken_at"), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out var at)
            && at.Year is > 1900 and < 2200)
            return at.AddTicks(-(at.Ticks % TimeSpan.TicksPerMicrosecond));
        else cells.Reject("taken_at", $"'{RowCells.Brief(cells.Raw("taken_at"))}' is no moment; write 2031-03-12T08:30:00Z.");
        return DateTimeOffset.UnixEpoch;
    }

    protected override (int Unit, Characteristic Characteristic, DateTimeOffset TakenAt) KeyOf(MeasurementRow row) => (row.UnitId, row.Characteristic, row.TakenAt);

    protected override async Task Apply(
        KindRun run, IReadOnlyList<Judged<MeasurementRow, (int Unit, Characteristic Characteristic, DateTimeOffset TakenAt)>> rows, CancellationToken cancellation)
    {
        var known = (await run.Db.Measurements.AsNoTracking().Include(row => row.Readings).ToListAsync(cancellation))
            .ToDictionary(row => (row.UnitId, row.Characteristic, row.TakenAt));
        var waiting = 0;
        foreach (var (line, row, key) in rows)
        {
            if (row.TakenAt > run.Context.Now) run.Reject(line, "taken_at", "That moment has not come yet.");
            else if (!known.TryGetValue(key, out var before))
            {
                run.Db.Measurements.Add(row);
                run.New++;
                if (++waiting % ChunkSize == 0) await Save(run, cancellation);
            }
            else if (before.GaugeId == row.GaugeId && before.MilliCelsius == row.MilliCelsius && before.Readings.OrderBy(reading => reading.Sequence)
                .Select(reading => reading.Diameter).SequenceEqual(row.Readings.Select(reading => reading.Diameter))) run.Unchanged++;
            else run.Reject(line, "readings", "This measurement is on the books with other figures, and nothing that was measured is overwritten; give a repeat its own moment.");
        }
        await Save(run, cancellation);
    }

    private static async Task Save(KindRun run, CancellationToken cancellation)
    {
        await run.Db.SaveChangesAsync(cancellation);
        run.Db.ChangeTracker.Clear();
    }
}
