using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Stock;

// The lines of acts on stock as the API takes them.

[Name("ReceiveLineInput")]
[Description("One line of a receipt.")]
public sealed record ReceiveLineInput
{
    [Description("The part's number.")]
    public required string Part { get; init; }

    [Description("The place they are put in.")]
    public required string Location { get; init; }

    [Description("How many, in the part's unit.")]
    public required decimal Quantity { get; init; }

    [Description("What one costs; left out, what the shop's pieces cost now.")]
    public decimal? UnitCost { get; init; }

    [Description("The lot or serial number; needed for parts that have them.")]
    public string? Lot { get; init; }

    [Description("When a new lot was cured.")]
    public DateOnly? CuredOn { get; init; }

    [Description("The last day on which a new lot may be used.")]
    public DateOnly? ExpiresOn { get; init; }

    [Description("Their condition; NEW when left out.")]
    public StockCondition? Condition { get; init; }

    internal Outcome<ReceiveStock.Line> Line()
    {
        var unitCost = UnitCost.ToMoney();
        if (!unitCost.Succeeded) return unitCost.Refusal;
        return Quantity.ToQuantity().Then<ReceiveStock.Line>(read =>
            new ReceiveStock.Line(Part, Location, read, unitCost.Result.Money, Lot, CuredOn, ExpiresOn, Condition ?? StockCondition.New));
    }
}

[Name("ReturnLineInput")]
[Description("One line of a supplier return.")]
public sealed record ReturnLineInput
{
    [Description("The part's number.")]
    public required string Part { get; init; }

    [Description("The place they are in.")]
    public required string From { get; init; }

    [Description("How many, in the part's unit.")]
    public required decimal Quantity { get; init; }

    [Description("The lot or serial number; needed for parts that have them.")]
    public string? Lot { get; init; }

    [Description("The condition they are booked in; NEW when left out.")]
    public StockCondition? Condition { get; init; }

    internal Outcome<ReturnToSupplier.Line> Line() => Quantity.ToQuantity().Then<ReturnToSupplier.Line>(read =>
        new ReturnToSupplier.Line(Part, From, read, Lot, Condition ?? StockCondition.New));
}

[Name("CountLineInput")]
[Description("One line of a blind count.")]
public sealed record CountLineInput
{
    [Description("The part's number.")]
    public required string Part { get; init; }

    [Description("What is there, in the part's unit; zero when there is nothing.")]
    public required decimal Counted { get; init; }

    [Description("The lot or serial number; needed for parts that have them.")]
    public string? Lot { get; init; }

    [Description("The condition of what was counted; NEW when left out.")]
    public StockCondition? Condition { get; init; }

    internal Outcome<CountStock.Line> Line() => Counted.ToQuantity().Then<CountStock.Line>(read =>
        new CountStock.Line(Part, read, Lot, Condition ?? StockCondition.New));
}

/// <summary>How the lines of an act are read.</summary>
internal static class LineInputs
{
    /// <summary>An amount, or none.</summary>
    public sealed record MaybeMoney(Money? Money);

    /// <summary>Every line, or the refusal of the first that cannot be written down.</summary>
    public static Outcome<IReadOnlyList<TLine>> Read<TInput, TLine>(this IReadOnlyList<TInput> inputs, Func<TInput, Outcome<TLine>> read)
        where TLine : notnull
    {
        var lines = new List<TLine>(inputs.Count);
        foreach (var input in inputs)
        {
            var line = read(input);
            if (!line.Succeeded) return line.Refusal;
            lines.Add(line.Result);
        }
        return lines;
    }

    /// <summary>
    /// An amount as the API is sent it. Refuses what is finer than a ten-thousandth; what is larger than any amount becomes the largest,
    /// which the act's own rule refuses with its own code.
    /// </summary>
    public static Outcome<MaybeMoney> ToMoney(this decimal? number)
    {
        if (number is not { } given) return new MaybeMoney(null);
        if (Math.Abs(given) > long.MaxValue / Money.PerUnit)
            return new MaybeMoney(Money.FromTenThousandths(given > 0 ? long.MaxValue : -long.MaxValue));
        var tenThousandths = given * Money.PerUnit;
        return tenThousandths == decimal.Truncate(tenThousandths) ? new MaybeMoney(Money.FromTenThousandths((long)tenThousandths))
            : new Refusal("COST_TOO_FINE", "A cost has more than four decimals.", "Round it to the ten-thousandth.");
    }
}
