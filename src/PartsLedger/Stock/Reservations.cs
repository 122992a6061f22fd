using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Pieces of one balance that a job has reserved and neither pulled nor released.</summary>
public sealed record OpenReservation(
    long LineId, long ReservationId, string Job, string JobKey, string MadeBy, DateTimeOffset ExpiresAt, int PartId, long BalanceId, Quantity Open);

/// <summary>
/// Pieces spoken for: how they are taken up and freed again. The balance's reserved figure is always the sum of its open lines. Whoever
/// changes something here has the turn on the part (see <see cref="Ledger.Begin"/>).
/// </summary>
public static class Reservations
{
    /// <summary>Closes the open lines of a part whose reservation has run out.</summary>
    /// <returns>The part without them.</returns>
    public static async Task<PartInHand> FreeExpired(LedgerContext db, PartInHand part, DateTimeOffset now, CancellationToken cancellation)
    {
        var expired = part.Open.Where(line => line.ExpiresAt <= now).ToList();
        if (expired.Count == 0) return part;
        foreach (var line in expired) await Close(db, line, line.Open, cancellation);
        var freed = expired.ToLookup(line => line.BalanceId, line => line.Open);
        return part with
        {
            Balances = [.. part.Balances.Select(balance =>
                balance with { Reserved = balance.Reserved - freed[balance.Id].Total(open => open) })],
            Open = [.. part.Open.Except(expired)],
        };
    }

    /// <summary>What one job has reserved, of every part, first to free up first.</summary>
    public static async Task<IReadOnlyList<OpenReservation>> OfJob(LedgerContext db, string jobKey, CancellationToken cancellation) =>
        await db.ReservationLines.AsNoTracking().Where(line => line.Reservation.JobKey == jobKey && line.Open != Quantity.Zero)
            .OrderBy(line => line.Reservation.ExpiresAt).ThenBy(line => line.Id)
            .Select(line => new OpenReservation(line.Id, line.ReservationId, line.Reservation.Job, line.Reservation.JobKey,
                line.Reservation.MadeBy, line.Reservation.ExpiresAt, line.PartId, line.BalanceId, line.Open))
            .ToListAsync(cancellation);

    /// <summary>Speaks for free pieces of a balance; the line that says so is the caller's to write.</summary>
    /// <exception cref="RaceLost">So many are no longer free.</exception>
    public static async Task Take(LedgerContext db, long balanceId, Quantity quantity, CancellationToken cancellation)
    {
        var taken = await db.Database.ExecuteSqlAsync($"""
            update stock_balances set reserved = reserved + {quantity.Thousandths}
            where id = {balanceId} and reserved + {quantity.Thousandths} <= on_hand
            """, cancellation);
        if (taken == 0) throw new RaceLost();
    }

    /// <summary>Closes so much of an open line: its pieces are pulled or free again.</summary>
    /// <exception cref="RaceLost">So much is no longer open.</exception>
    public static async Task Close(LedgerContext db, OpenReservation line, Quantity quantity, CancellationToken cancellation)
    {
        var closed = await db.Database.ExecuteSqlAsync($"""
            update reservation_lines set still_open = still_open - {quantity.Thousandths}
            where id = {line.LineId} and still_open >= {quantity.Thousandths}
            """, cancellation);
        if (closed == 0) throw new RaceLost();
        var freed = await db.Database.ExecuteSqlAsync($"""
            update stock_balances set reserved = reserved - {quantity.Thousandths}
            where id = {line.BalanceId} and reserved >= {quantity.Thousandths}
            """, cancellation);
        if (freed == 0) throw new RaceLost();
    }
}
