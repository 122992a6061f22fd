using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Stock;

/// <summary>Every "no" that an act on stock for a job can say beyond what all acts say (see <see cref="StockRefusals"/>).</summary>
public static class JobRefusals
{
    public static Refusal ExpiryPassed(DateTimeOffset expiresAt) => new("EXPIRY_NOT_IN_FUTURE",
        FormattableString.Invariant($"The reservation would end at {expiresAt.UtcDateTime:yyyy-MM-dd HH:mm} UTC, which has passed."),
        "Give a moment in the future.");

    public static Refusal ExpiryTooFar(DateTimeOffset expiresAt) => new("EXPIRY_TOO_FAR",
        FormattableString.Invariant($"The reservation would last until {expiresAt.UtcDateTime:yyyy-MM-dd}, longer than {ReserveForJob.LongestDays} days."),
        "Give a nearer day; a reservation that is still needed can be made again.");

    /// <param name="part">The part asked for, or null when any would do.</param>
    public static Refusal NoReservation(string job, string? part) => new("NO_RESERVATION",
        $"Job {job} has nothing reserved{(part is null ? "" : $" of {part}")}.",
        "Check the job's number; what it reserved may have been pulled, released or run out.");

    public static Refusal NotEnoughReserved(string job, string part, Quantity wanted, Quantity reserved) => new("NOT_ENOUGH_RESERVED",
        $"Job {job} has {reserved} of {part} reserved there; {wanted} were asked for.", "Ask for what is reserved, or reserve more first.");

    public static Refusal LotExpired(string part, IEnumerable<(string Lot, DateOnly On)> lots) => new("LOT_EXPIRED",
        $"What is left of {part} has expired: {string.Join(", ", lots.Take(3).Select(lot => FormattableString.Invariant($"lot {lot.Lot} on {lot.On:yyyy-MM-dd}")))}.",
        "Take another lot, or scrap the expired one.");

    public static Refusal Quarantined(string part, Quantity quantity) => new("QUARANTINED",
        $"{quantity} of {part} are in quarantine and cannot be used.", "Take others, or have them looked at and released from quarantine.");

    /// <param name="has">What the job has of the part, by lot, in words; empty when it has none.</param>
    public static Refusal ReturnTooMany(string job, string part, Quantity wanted, string has) => new("RETURN_TOO_MANY",
        $"Job {job} cannot give back {wanted} of {part}: {(has.Length == 0 ? "it has pulled none that are not back" : $"it has {has}")}.",
        "Check the job, the part and the lot; pieces from elsewhere come in by a receipt or a count.");
}
