using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

// Where stock is, was and moved, as the API shows it.

[Name("OnHand")]
[Description("What the shop has of a part.")]
public sealed class OnHandView(OnHandOfPart.Answer answer)
{
    [Description("The part's number, as written.")]
    public string Part => answer.Part;

    [Description("In all places and conditions, in the part's unit.")]
    public decimal OnHand => answer.OnHand.ToDecimal();

    [Description("Kept for jobs.")]
    public decimal Reserved => answer.Reserved.ToDecimal();

    [Description("In good condition, not expired, in no quarantine place and not reserved.")]
    public decimal Available => answer.Available.ToDecimal();

    [Description("Where it lies: first to expire first, then by place.")]
    public IEnumerable<PiecesOnHandView> Pieces => answer.Pieces.Select(pieces => new PiecesOnHandView(pieces));
}

[Name("PiecesOnHand")]
[Description("What lies in one place of a part, in one lot and condition.")]
public sealed class PiecesOnHandView(PiecesOnHand pieces)
{
    [Description("The part's number, as written.")]
    public string Part => pieces.Part;

    [Description("What the part is called.")]
    public string Name => pieces.Name;

    [Description("The unit its quantities are in.")]
    public string Unit => pieces.Unit;

    [Description("The place's code.")]
    public string Place => pieces.Place;

    [Description("What the place is for.")]
    public LocationKind PlaceKind => pieces.PlaceKind;

    [Description("The lot or serial number; null for pieces without one.")]
    public string? Lot => pieces.Lot;

    [Description("The last day on which the lot may be used; null when it does not expire.")]
    public DateOnly? ExpiresOn => pieces.ExpiresOn;

    [Description("That day is past, in UTC.")]
    public bool Expired => pieces.Expired;

    [Description("Their condition.")]
    public StockCondition Condition => pieces.Condition;

    [Description("How many there are.")]
    public decimal OnHand => pieces.OnHand.ToDecimal();

    [Description("How many are kept for jobs.")]
    public decimal Reserved => pieces.Reserved.ToDecimal();

    [Description("How many nobody has reserved, in whatever condition.")]
    public decimal Free => pieces.Free.ToDecimal();

    [Description("How many are free, in good condition and not expired; none in quarantine.")]
    public decimal Available => pieces.Available.ToDecimal();
}

[Name("Movement")]
[Description("One line of the ledger: pieces that came to or left one place.")]
public sealed class MovementView(FindMovements.Line line)
{
    [Id]
    [Description("The line's number.")]
    public long Id => line.Id;

    [Id]
    [Description("The transaction's number.")]
    public long Transaction => line.Transaction;

    [Description("What was done, in one word.")]
    public string Act => line.Act;

    [Description("When, in UTC.")]
    public DateTimeOffset At => line.At;

    [Description("Who did it.")]
    public string Who => line.Who;

    [Description("Why, or a remark; null when nothing was said.")]
    public string? Why => line.Why;

    [Description("What it belongs to: job, kit, receipt, count, core …; null for nothing.")]
    public string? BelongsTo => line.BelongsTo;

    [Description("That thing's own number.")]
    public string? Reference => line.Reference;

    [Id]
    [Description("The number of the transaction that this one takes back.")]
    public long? Reverses => line.Reverses;

    [Description("The part's number, as written.")]
    public string Part => line.Part;

    [Description("The place's code; null when the line is the outside world's.")]
    public string? Place => line.Place;

    [Description("The outside world's side; null when the line is a place's.")]
    public OutsideWorld? Outside => line.Outside;

    [Description("The lot or serial number; null for pieces without one.")]
    public string? Lot => line.Lot;

    [Description("Their condition.")]
    public StockCondition Condition => line.Condition;

    [Description("Above zero what came, below zero what left.")]
    public decimal Quantity => line.Quantity.ToDecimal();

    [Description("What one piece cost at that moment, rounded to the ten-thousandth.")]
    public decimal UnitCost => line.UnitCost.ToDecimal();

    [Description("What the pieces carry along, exact, with the quantity's sign.")]
    public decimal Value => line.Value.ToDecimal();
}

[Name("PastPieces")]
[Description("What lay in one place of a part at a past moment, in one lot and condition.")]
public sealed class PastPiecesView(StockAsOf.Pieces pieces)
{
    [Description("The part's number, as written.")]
    public string Part => pieces.Part;

    [Description("What the part is called.")]
    public string Name => pieces.Name;

    [Description("The place's code.")]
    public string Place => pieces.Place;

    [Description("The lot or serial number; null for pieces without one.")]
    public string? Lot => pieces.Lot;

    [Description("Their condition.")]
    public StockCondition Condition => pieces.Condition;

    [Description("How many there were.")]
    public decimal Quantity => pieces.Quantity.ToDecimal();

    [Description("What lines brought there less what they took away; over all places it is what the part was worth.")]
    public decimal Value => pieces.Value.ToDecimal();
}

[Name("ExpiringLot")]
[Description("A lot on the shelf that has expired or soon will.")]
public sealed class ExpiringLotView(LotsNearExpiry.Lot lot)
{
    [Description("The part's number, as written.")]
    public string Part => lot.Part;

    [Description("What the part is called.")]
    public string Name => lot.Name;

    [Description("The lot.")]
    public string Lot => lot.Code;

    [Description("When it was cured; null when that is not known.")]
    public DateOnly? CuredOn => lot.CuredOn;

    [Description("The last day on which it may be used.")]
    public DateOnly ExpiresOn => lot.ExpiresOn;

    [Description("That day is past, in UTC.")]
    public bool Expired => lot.Expired;

    [Description("Days until that day; below zero since it was.")]
    public int DaysLeft => lot.DaysLeft;

    [Description("How many there are.")]
    public decimal OnHand => lot.OnHand.ToDecimal();

    [Description("How many are kept for jobs.")]
    public decimal Reserved => lot.Reserved.ToDecimal();

    [Description("Where it lies, by place.")]
    public IEnumerable<PiecesOnHandView> Pieces => lot.Pieces.Select(pieces => new PiecesOnHandView(pieces));
}

[Name("LedgerEntry")]
[Description("One ledger transaction, whole.")]
public sealed class LedgerEntryView(LedgerFeed.Entry entry)
{
    [Id]
    [Description("The transaction's number. Numbers do not tell the order; the feed's cursors do.")]
    public long Transaction => entry.Transaction;

    [Description("What was done, in one word.")]
    public string Act => entry.Act;

    [Description("When, in UTC.")]
    public DateTimeOffset At => entry.At;

    [Description("Who did it.")]
    public string Who => entry.Who;

    [Description("Why, or a remark; null when nothing was said.")]
    public string? Why => entry.Why;

    [Description("What it belongs to: job, kit, receipt, count, core …; null for nothing.")]
    public string? BelongsTo => entry.BelongsTo;

    [Description("That thing's own number.")]
    public string? Reference => entry.Reference;

    [Id]
    [Description("The number of the transaction that this one takes back.")]
    public long? Reverses => entry.Reverses;

    [Description("The id of the request that it answered.")]
    public string RequestId => entry.RequestId;

    [Description("Its lines; those of each part sum to zero, in quantity and in value.")]
    public IEnumerable<LedgerLineView> Lines => entry.Lines.Select(line => new LedgerLineView(line));
}

[Name("LedgerLine")]
[Description("Pieces that came to or left one place, or one side of the outside world.")]
public sealed class LedgerLineView(LedgerFeed.Line line)
{
    [Description("The part's number, as written.")]
    public string Part => line.Part;

    [Description("The place's code; null when the line is the outside world's.")]
    public string? Place => line.Place;

    [Description("The outside world's side; null when the line is a place's.")]
    public OutsideWorld? Outside => line.Outside;

    [Description("The lot or serial number; null for pieces without one.")]
    public string? Lot => line.Lot;

    [Description("Their condition.")]
    public StockCondition Condition => line.Condition;

    [Description("Above zero what came, below zero what left.")]
    public decimal Quantity => line.Quantity.ToDecimal();

    [Description("What one piece cost at that moment, rounded to the ten-thousandth.")]
    public decimal UnitCost => line.UnitCost.ToDecimal();

    [Description("What the pieces carry along, exact, with the quantity's sign.")]
    public decimal Value => line.Value.ToDecimal();
}

/// <summary>What a place is for, described for the API.</summary>
public sealed class LocationKindGraphType : EnumerationGraphType<LocationKind>
{
    public LocationKindGraphType()
    {
        Name = "LocationKind";
        Description = "What a place in the shop is for.";
        Values["BIN"]!.Description = "Stock is kept there.";
        Values["BENCH"]!.Description = "Work is done there.";
        Values["QUARANTINE"]!.Description = "What may not be used is kept there; nothing in it is ever available.";
        Values["DOCK"]!.Description = "What comes and goes waits there.";
    }
}

/// <summary>Where pieces come from and go to outside the shop, described for the API.</summary>
public sealed class OutsideWorldGraphType : EnumerationGraphType<OutsideWorld>
{
    public OutsideWorldGraphType()
    {
        Name = "OutsideWorld";
        Description = "Where pieces come from and go to when they are in no place of the shop.";
        Values["SUPPLIER"]!.Description = "Received from or given back to a supplier.";
        Values["CUSTOMER"]!.Description = "Sold to or taken back from a customer.";
        Values["SCRAP"]!.Description = "Thrown away.";
        Values["JOB"]!.Description = "Used by a job, or come back from one.";
        Values["COUNT_DIFFERENCE"]!.Description = "Found or missed at a count.";
        Values["OPENING"]!.Description = "There when the ledger was begun.";
        Values["KIT"]!.Description = "The kit bench: components that became kits, and kits that became components.";
    }
}

[Name("WaitingCount")]
[Description("A count that waits for a second one.")]
public sealed class WaitingCountView(WaitingCounts.Waiting waiting)
{
    [Description("The part's number, as written.")]
    public string Part => waiting.Part;

    [Description("What the part is called.")]
    public string Name => waiting.Name;

    [Description("The place's code.")]
    public string Place => waiting.Place;

    [Description("The lot or serial number; null for pieces without one.")]
    public string? Lot => waiting.Lot;

    [Description("Their condition.")]
    public StockCondition Condition => waiting.Condition;

    [Description("When it was counted, in UTC.")]
    public DateTimeOffset At => waiting.At;

    [Description("Who counted.")]
    public string By => waiting.By;
}

[Name("LedgerCheck")]
[Description("What the last verification of the ledger found.")]
public sealed class LedgerCheckView(VerifyLedger.Answer answer, DateTimeOffset at)
{
    [Description("Everything holds.")]
    public bool Sound => answer.Sound;

    [Description("When it was checked, in UTC.")]
    public DateTimeOffset At => at;

    [Description("The place in the ledger's feed up to which it was checked.")]
    public long UpTo => answer.UpTo;

    [Description("How many transactions it went through.")]
    public long Transactions => answer.Counted.Transactions;

    [Description("What does not hold, each breach in a sentence; empty when everything does.")]
    public IEnumerable<string> Breaches => answer.Breaches.Select(breach => $"{breach.Rule}: {breach.Where}: {breach.What}");
}
