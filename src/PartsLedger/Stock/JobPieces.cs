using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

/// <summary>Pieces of a part in one place, lot and condition, as the person at the shelf needs to know them.</summary>
/// <param name="Lot">Null for pieces without a lot.</param>
public sealed record PiecesAt(string Part, string Place, string? Lot, StockCondition Condition, Quantity Quantity)
{
    public static PiecesAt Of(string part, StockBalance balance, Quantity quantity) =>
        new(part, balance.Place.Code, balance.Lot, balance.Condition, quantity);
}

/// <summary>Pieces that a job has reserved: who reserved them and when they free up if the job does not pull them.</summary>
public sealed record HeldPieces(string Job, string By, DateTimeOffset Until, Quantity Quantity)
{
    // More than these do not fit a sentence that somebody reads at the counter.
    private const int Told = 3;

    /// <summary>What the open lines hold, by job and reservation, first to free up first.</summary>
    public static IReadOnlyList<HeldPieces> In(IEnumerable<OpenReservation> lines) =>
        [.. lines.GroupBy(line => line.ReservationId)
            .Select(group => new HeldPieces(group.First().Job, group.First().MadeBy, group.First().ExpiresAt, group.Total(line => line.Open)))
            .OrderBy(held => held.Until).ThenBy(held => held.Job, StringComparer.Ordinal)];

    /// <summary>"Reserved: 2 for job J-7 by counter until 2031-03-26 12:00 UTC." or nothing when nobody holds any.</summary>
    public static string Sentence(IReadOnlyList<HeldPieces> held)
    {
        if (held.Count == 0) return "";
        var told = held.Take(Told).Select(one =>
            FormattableString.Invariant($"{one.Quantity} for job {one.Job} by {one.By} until {one.Until.UtcDateTime:yyyy-MM-dd HH:mm} UTC"));
        var more = held.Count > Told ? $"; and {held.Count - Told} more reservations" : "";
        return $"Reserved: {string.Join("; ", told)}{more}.";
    }
}
