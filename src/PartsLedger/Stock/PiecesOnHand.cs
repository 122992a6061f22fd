using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

/// <summary>What lies in one place of a part, in one lot and condition, as it is shown: a reservation that has run out no longer counts.</summary>
/// <param name="Expired">The lot may no longer be used.</param>
/// <param name="Reserved">Kept for jobs.</param>
/// <param name="Available">Free and in good condition; zero in quarantine.</param>
public sealed record PiecesOnHand(
    string Part, string Name, string Unit, string Place, LocationKind PlaceKind, string? Lot, DateOnly? ExpiresOn, bool Expired,
    StockCondition Condition, Quantity OnHand, Quantity Reserved, Quantity Available)
{
    public Quantity Free => OnHand - Reserved;
}

/// <summary>A balance as read for showing, with its key for paging.</summary>
public sealed record PiecesRow(long Id, string PartKey, int? LotId, PiecesOnHand Pieces);

/// <summary>Reads balances for showing, each together with what is reserved of it in one statement.</summary>
public static class PiecesReader
{
    /// <param name="balances">Which, in which order; none that is empty is shown.</param>
    public static async Task<List<PiecesRow>> Read(
        LedgerContext db, IQueryable<StockBalanceRow> balances, DateTimeOffset now, CancellationToken cancellation)
    {
        var today = DateOnly.FromDateTime(now.UtcDateTime);
        var rows = await balances.AsNoTracking().Where(row => row.OnHand != Quantity.Zero)
            .Select(row => new
            {
                row.Id, row.Part.NumberKey, row.Part.Number, row.Part.Name, row.Part.Unit, row.Location.Code, row.Location.Kind, row.LotId, Lot = row.Lot!.Code,
                row.Lot!.ExpiresOn, row.Condition, row.OnHand, row.Reserved,
                RunOut = db.ReservationLines
                    .Where(line => line.BalanceId == row.Id && line.Open != Quantity.Zero && line.Reservation.ExpiresAt <= now)
                    .Select(line => line.Open).ToList(),
            }).AsSingleQuery().ToListAsync(cancellation);
        return rows.ConvertAll(row =>
        {
            var reserved = row.Reserved - row.RunOut.Total(open => open);
            var isExpired = PickOrder.IsExpired(row.ExpiresOn, today);
            var isUsable = !isExpired && row.Condition != StockCondition.Quarantine && row.Kind != LocationKind.Quarantine;
            return new PiecesRow(row.Id, row.NumberKey, row.LotId, new PiecesOnHand(row.Number, row.Name, row.Unit, row.Code, row.Kind, row.Lot, row.ExpiresOn,
                isExpired, row.Condition, row.OnHand, reserved, isUsable ? row.OnHand - reserved : Quantity.Zero));
        });
    }
}
