using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

/// <summary>Every "no" of quarantine, counts, lots and reversals beyond what all acts on stock say (see <see cref="StockRefusals"/>).</summary>
public static class ShelfRefusals
{
    public static Refusal AlreadyQuarantined(string part, string place) => new("ALREADY_QUARANTINED",
        $"Those of {part} in {place} are in quarantine already.", "Move them if they should lie elsewhere, or release them.");

    public static Refusal NotAQuarantinePlace(string place) => new("NOT_A_QUARANTINE_PLACE",
        $"{place} is no quarantine place.", "Give a quarantine place, or leave the place out to quarantine them where they are.");

    public static Refusal ConditionNotGood() => new("CONDITION_NOT_GOOD",
        "Released from quarantine into quarantine is no release.", "Give the condition they were found to be in: new, rebuilt or used.");

    public static Refusal StillInQuarantinePlace(string part, string place) => new("STILL_IN_QUARANTINE_PLACE",
        $"{part} would still lie in the quarantine place {place}, where nothing is available.", "Give the place they go to.");

    public static Refusal CountedTwice(string part, string? lot, StockCondition condition) => new("COUNTED_TWICE",
        $"The count has two lines for {part}{OfLot(lot)}, {Words.Of(condition)}.", "Add them up and give one line.");

    /// <param name="holders">Who has reserved them, as a sentence.</param>
    public static Refusal BelowReserved(string part, string place, Quantity counted, Quantity reserved, string holders) => new("BELOW_RESERVED",
        $"{counted} of {part} counted in {place}, but {reserved} there are reserved. {holders}",
        "Look for the missing ones, or release a reservation first, then count again.");

    public static Refusal SerialElsewhere(string part, string serial, string place) => new("SERIAL_ELSEWHERE",
        $"By the ledger, {serial} of part {part} is in {place}.", "Move it from there if that is the piece, or read the serial number again.");

    public static Refusal LotsOfSerials(string part) => new("TRACKED_ONE_BY_ONE",
        $"Part {part} is tracked one by one: a serial number is one piece and cannot be split or merged.", "Correct the booking that was wrong instead.");

    public static Refusal LotExists(string part, string lot) => new("LOT_EXISTS",
        $"Part {part} has a lot {lot} already.", "Give a lot that is new, or merge the two lots.");

    public static Refusal SameLot(string lot) => new("SAME_LOT", $"Lot {lot} cannot be merged into itself.", "Give the lots that go into it, each once.");

    public static Refusal NothingToMerge(string part) => new("NOTHING_TO_MERGE",
        $"The lots of {part} that should be merged hold nothing.", "Check the lots; an empty one needs no merging.");

    public static Refusal UnknownTransaction(long number) => new("UNKNOWN_TRANSACTION",
        $"The ledger has no transaction {number}.", "Look the number up in the part's movements.");

    public static Refusal ReversalOfReversal(long number, long reversed) => new("REVERSAL_OF_REVERSAL",
        $"Transaction {number} is itself the reversal of {reversed}.", "Book what was right as a new act.");

    public static Refusal AlreadyReversed(long number, long by) => new("ALREADY_REVERSED",
        $"Transaction {number} was reversed already, by {by}.", "Nothing is left to do.");

    private static string OfLot(string? lot) => lot is null ? "" : $" of lot {lot}";
}
