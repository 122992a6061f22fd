using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Stock;

/// <summary>Every "no" an act on stock can say: the code is stable, the sentence is for the person, the last part says what to do.</summary>
public static class StockRefusals
{
    /// <summary>More pieces than any shop has: beyond this a quantity is a slip of the keyboard.</summary>
    public static readonly Quantity Largest = Quantity.FromWhole(1_000_000_000);

    public static Refusal UnknownPart(string number) =>
        new("UNKNOWN_PART", $"There is no part '{Brief(number)}'.", "Check the number, or look it up by an old or a supplier's number first.");

    public static Refusal UnknownLocation(string code) =>
        new("UNKNOWN_LOCATION", $"There is no place '{Brief(code)}'.", "Scan the label on the bin, or import the place first.");

    public static Refusal UnknownLot(string lot, string part) =>
        new("UNKNOWN_LOT", $"Part {part} has no lot '{Brief(lot)}'.", "Read the lot from the bag again.");

    public static Refusal LotOfAnotherPart(string lot, string part, string other) =>
        new("LOT_OF_ANOTHER_PART", $"Lot '{Brief(lot)}' belongs to part {other}, not to {part}.", "Check which part is in the bag before anything is booked.");

    public static Refusal LotMissing(string part) =>
        new("LOT_MISSING", $"Part {part} is tracked by lot, and no lot was given.", "Give the lot from the bag or the delivery note.");

    public static Refusal NotWhole(string part, Quantity quantity) =>
        new("QUANTITY_NOT_WHOLE", $"Part {part} is counted in whole pieces; {quantity} is not whole.", "Give a whole number.");

    public static Refusal SerialIsOne(string part) =>
        new("SERIAL_IS_ONE", $"Part {part} is tracked one by one: each serial number is one piece.", "Book every piece with its own serial number.");

    public static Refusal SamePlace(string place) =>
        new("SAME_PLACE", $"It already is in {place}.", "Give the place it goes to.");

    public static Refusal NotEnough(string part, string place, Quantity wanted, Quantity onHand, Quantity free) => new("NOT_ENOUGH",
        $"{place} holds {onHand} of {part}, {free} of them free; {wanted} cannot be taken.", "Take fewer, take them from another place, or count the bin.");

    public static Refusal NotEnoughFree(string part, Quantity wanted, Quantity free, string holders) => new("NOT_ENOUGH_FREE",
        $"Only {free} of {part} are free; {wanted} were asked for.{(holders.Length == 0 ? "" : $" {holders}")}",
        "Wait until it frees up, take what is free, or order.");

    private static string Brief(string text) => text.Length <= 60 ? text : text[..60] + "…";
}
