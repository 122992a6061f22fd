using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>The questions that every act on stock asks: one statement each, compiled once for the database.</summary>
public sealed class StockReader
{
    private readonly Func<LedgerContext, string, CancellationToken, Task<NamedPart?>> _part = EF.CompileAsyncQuery(
        (LedgerContext db, string key, CancellationToken _) => db.Parts.AsNoTracking().Where(row => row.NumberKey == key)
            .Select(row => new NamedPart(row.Id, row.Number, row.Tracking, row.Unit)).SingleOrDefault());

    // A row for each open reservation of each balance; a balance that nobody reserved has one, a part with nothing on any shelf has one.
    private readonly Func<LedgerContext, int, IAsyncEnumerable<Row>> _rows = EF.CompileAsyncQuery((LedgerContext db, int partId) =>
        from part in db.StockParts.AsNoTracking()
        where part.PartId == partId
        from balance in db.StockBalances.Where(row => row.PartId == partId && row.OnHand != Quantity.Zero).DefaultIfEmpty()
        from line in db.ReservationLines.Where(row => row.BalanceId == balance!.Id && row.Open != Quantity.Zero).DefaultIfEmpty()
        select new Row
        {
            OnHand = part.OnHand, Value = part.Value, ListCost = part.Part.Cost,
            Costing = db.Settings.Where(setting => setting.Name == ShopSettings.CostingName).Select(setting => setting.Value)
                .FirstOrDefault(),
            BalanceId = balance!.Id, LocationId = balance.LocationId, Place = balance.Location.Code, PlaceKey = balance.Location.CodeKey,
            PlaceKind = balance.Location.Kind, LotId = balance.LotId, Lot = balance.Lot!.Code, ExpiresOn = balance.Lot.ExpiresOn,
            Condition = balance.Condition, BalanceOnHand = balance.OnHand, Reserved = balance.Reserved,
            LineId = line!.Id, ReservationId = line.ReservationId, Job = line.Reservation.Job, JobKey = line.Reservation.JobKey,
            MadeBy = line.Reservation.MadeBy, RunsOutAt = line.Reservation.ExpiresAt, Open = line.Open,
        });

    /// <summary>The part of this number in canonical form, or null.</summary>
    public async Task<StockPart?> Part(LedgerContext db, string key, CancellationToken cancellation) =>
        await _part(db, key, cancellation) is { } row ? new StockPart(row.Id, row.Number, row.Tracking, PieceUnit.IsWhole(row.Unit)) : null;

    /// <summary>What the shop has of a part whose turn was taken.</summary>
    public async Task<PartInHand> InHand(LedgerContext db, int partId, CancellationToken cancellation)
    {
        var rows = await _rows(db, partId).ToListAsync(cancellation);
        var first = rows[0];
        return new PartInHand(partId, first.OnHand, first.Value, first.ListCost, first.Costing,
            [.. rows.Where(row => row.BalanceId is not null).DistinctBy(row => row.BalanceId)
                .OrderBy(row => row.ExpiresOn ?? DateOnly.MaxValue).ThenBy(row => row.PlaceKey, StringComparer.Ordinal)
                .ThenBy(row => row.Lot, StringComparer.Ordinal).ThenBy(row => row.Condition).Select(Balance)],
            [.. rows.Where(row => row.LineId is not null).OrderBy(row => row.RunsOutAt).ThenBy(row => row.LineId)
                .Select(row => Line(partId, row))]);
    }

    private static StockBalance Balance(Row row) => new(row.BalanceId!.Value,
        new StockPlace(row.LocationId!.Value, row.Place!, row.PlaceKind!.Value), row.LotId, row.Lot, row.ExpiresOn, row.Condition!.Value,
        row.BalanceOnHand!.Value, row.Reserved!.Value);

    private static OpenReservation Line(int partId, Row row) => new(row.LineId!.Value, row.ReservationId!.Value, row.Job!, row.JobKey!,
        row.MadeBy!, row.RunsOutAt!.Value, partId, row.BalanceId!.Value, row.Open!.Value);

    private sealed record NamedPart(int Id, string Number, Tracking Tracking, string Unit);

    private sealed class Row
    {
        public Quantity OnHand { get; init; }
        public Money Value { get; init; }
        public Money ListCost { get; init; }
        public string? Costing { get; init; }
        public long? BalanceId { get; init; }
        public int? LocationId { get; init; }
        public string? Place { get; init; }
        public string? PlaceKey { get; init; }
        public LocationKind? PlaceKind { get; init; }
        public int? LotId { get; init; }
        public string? Lot { get; init; }
        public DateOnly? ExpiresOn { get; init; }
        public StockCondition? Condition { get; init; }
        public Quantity? BalanceOnHand { get; init; }
        public Quantity? Reserved { get; init; }
        public long? LineId { get; init; }
        public long? ReservationId { get; init; }
        public string? Job { get; init; }
        public string? JobKey { get; init; }
        public string? MadeBy { get; init; }
        public DateTimeOffset? RunsOutAt { get; init; }
        public Quantity? Open { get; init; }
    }
}
