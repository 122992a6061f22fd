using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

// What several acts on stock answer with, as the API shows it.

[Name("StockPosted")]
[Description("The ledger transaction that an act on stock became.")]
public sealed class StockPostedView(StockPosted posted)
{
    [Id]
    [Description("The transaction's number.")]
    public long Transaction => posted.Transaction;

    [Description("What was done, in one word.")]
    public string Act => posted.Act;

    [Description("When, in UTC.")]
    public DateTimeOffset At => posted.At;
}

[Name("PiecesAt")]
[Description("Pieces of a part in one place, lot and condition.")]
public sealed class PiecesAtView(PiecesAt pieces)
{
    [Description("The part's number, as written.")]
    public string Part => pieces.Part;

    [Description("The place's code.")]
    public string Place => pieces.Place;

    [Description("The lot; null for pieces without a lot.")]
    public string? Lot => pieces.Lot;

    [Description("Their condition.")]
    public StockCondition Condition => pieces.Condition;

    [Description("How many, in the part's unit.")]
    public decimal Quantity => pieces.Quantity.ToDecimal();
}

/// <summary>The condition of a piece, described for the API.</summary>
public sealed class StockConditionGraphType : EnumerationGraphType<StockCondition>
{
    public StockConditionGraphType()
    {
        Name = "StockCondition";
        Description = "The condition of a piece on the shelf.";
        Values["NEW"]!.Description = "As it came from its maker.";
        Values["REBUILT"]!.Description = "Rebuilt and fit for use.";
        Values["USED"]!.Description = "Used and fit for use.";
        Values["QUARANTINE"]!.Description = "Not to be used until somebody has looked at it; never available.";
    }
}
