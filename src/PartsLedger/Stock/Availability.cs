using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

/// <summary>
/// What may be used of a part, the same wherever it is shown: on hand in good condition less reserved, over all places that are no
/// quarantine and all lots that have not expired. A reservation that has run out no longer counts, swept or not.
/// </summary>
public static class Availability
{
    /// <summary>By part id, zero or more; a part of which nothing is on any shelf is left out.</summary>
    /// <param name="db">Where to read.</param>
    /// <param name="partIds">At most as many as one statement may have parameters.</param>
    /// <param name="now">The moment by which reservations have run out or not, and lots have expired or not.</param>
    /// <param name="cancellation">Ends the reading.</param>
    public static async Task<Dictionary<int, Quantity>> Of(LedgerContext db, int[] partIds, DateTimeOffset now, CancellationToken cancellation)
    {
        var today = DateOnly.FromDateTime(now.UtcDateTime);

        // One statement: between two, a sweep could free the same pieces twice or not at all.
        var balances = await db.StockBalances.AsNoTracking()
            .Where(row => partIds.Contains(row.PartId) && row.Condition != StockCondition.Quarantine && row.Location.Kind != LocationKind.Quarantine)
            .Where(row => row.Lot == null || row.Lot.ExpiresOn == null || row.Lot.ExpiresOn >= today)
            .Select(row => new
            {
                row.PartId, row.OnHand, row.Reserved,
                RunOut = db.ReservationLines
                    .Where(line => line.BalanceId == row.Id && line.Open != Quantity.Zero && line.Reservation.ExpiresAt <= now)
                    .Select(line => line.Open).ToList(),
            }).AsSingleQuery().ToListAsync(cancellation);
        return balances.GroupBy(row => row.PartId).ToDictionary(group => group.Key, group => Quantity.FromThousandths(
            group.Sum(row => row.OnHand.Thousandths - row.Reserved.Thousandths + row.RunOut.Sum(open => open.Thousandths))));
    }
}
