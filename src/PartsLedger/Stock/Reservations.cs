using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;

namespace PartsLedger.Stock;

/// <summary>Pieces spoken for: how they are freed again. The balance's reserved figure is always the sum of its open lines.</summary>
public static class Reservations
{
    /// <summary>Closes the open lines of a part whose reservation has run out. The caller has the turn on the part.</summary>
    public static async Task FreeExpired(LedgerContext db, int partId, DateTimeOffset now, CancellationToken cancellation)
    {
        var expired = await db.ReservationLines.Include(line => line.Balance)
            .Where(line => line.PartId == partId && line.Open != Domain.Measures.Quantity.Zero && line.Reservation.ExpiresAt <= now)
            .ToListAsync(cancellation);
        if (expired.Count == 0) return;
        foreach (var line in expired)
        {
            line.Balance.Reserved -= line.Open;
            line.Open = Domain.Measures.Quantity.Zero;
        }
        await db.SaveChangesAsync(cancellation);
    }
}
