using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Stock;

// What the API shows of acts on stock and of what it is worth.

/// <summary>What became of a counted line, described for the API.</summary>
public sealed class CountVerdictGraphType : EnumerationGraphType<CountVerdict>
{
    public CountVerdictGraphType()
    {
        Name = "CountVerdict";
        Description = "What became of a counted line.";
        Values["AGREED"]!.Description = "It is what the ledger had.";
        Values["POSTED"]!.Description = "The difference was posted.";
        Values["COUNT_AGAIN"]!.Description = "The difference is large: nothing was posted, and it must be counted once more.";
    }
}

[Name("Count")]
[Description("What became of a blind count.")]
public sealed class CountView(CountStock.Answer answer)
{
    [Id]
    [Description("The ledger transaction of the differences; null when none was posted.")]
    public long? Transaction => answer.Transaction;

    [Description("The place that was counted.")]
    public string Place => answer.Place;

    [Description("When, in UTC.")]
    public DateTimeOffset At => answer.At;

    [Description("In the order of the count.")]
    public IEnumerable<CountLineView> Lines => answer.Lines.Select(line => new CountLineView(
        line.Part, line.Lot, line.Condition, line.Counted.ToDecimal(), line.Verdict, line.Difference?.ToDecimal()));
}

[Name("CountLine")]
[Description("What became of one counted line.")]
public sealed record CountLineView(
    [property: Description("The part's number.")] string Part,
    [property: Description("The lot or serial number; null for none.")] string? Lot,
    [property: Description("The condition of what was counted.")] StockCondition Condition,
    [property: Description("What was counted.")] decimal Counted,
    [property: Description("What became of it.")] CountVerdict Verdict,
    [property: Description("What was posted, more (above zero) or fewer than the ledger had; null while it must be counted again.")] decimal? Difference);

[Name("ShopChoice")]
[Description("One of the shop's choices as it stands now.")]
public sealed record ShopChoiceView(
    [property: Description("Which choice.")] string Name,
    [property: Description("What is chosen.")] string Value);

[Name("StockValue")]
[Description("What everything on the shelves is worth; the sum of the ledger's lines inside the shop.")]
public sealed class StockValueView(StockValue.Answer answer)
{
    private const string Kind = "stock-value";

    [Description("All parts together, in the shop's currency.")]
    public decimal Value => answer.Value.ToDecimal();

    [Description("How it is valued: average or fifo.")]
    public string Costing => Words.Of(answer.Costing);

    [Description("By part number; a part of which there is nothing is left out.")]
    public Connection<PartValueView> Parts(
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null)
    {
        var page = PageRequest.Read(Kind, first, after).OrRefuse();
        var rows = answer.Parts.Select(part => new PartValueView(part))
            .Where(part => page.After is null || string.CompareOrdinal(part.Key, page.After) > 0).Take(page.First + 1).ToList();
        return Connection.Of(Kind, Page.Of(page, rows, part => part.Key));
    }
}

[Name("PartValue")]
[Description("What the shop has of a part and what that is worth.")]
public sealed class PartValueView(StockValue.PartValue part)
{
    [Ignore]
    public string Key { get; } = PartNumber.Canonical(part.Part);

    [Description("The part's number.")]
    public string Part => part.Part;

    [Description("What the part is called.")]
    public string Name => part.Name;

    [Description("On hand in all places and conditions, in `unit`.")]
    public decimal Quantity => part.Quantity.ToDecimal();

    [Description("The unit its quantities are in.")]
    public string Unit => part.Unit;

    [Description("Value by quantity, rounded half up to the ten-thousandth.")]
    public decimal UnitCost => part.UnitCost.ToDecimal();

    [Description("In the shop's currency, exact.")]
    public decimal Value => part.Value.ToDecimal();

    [Description("Where it lies, each place at the part's average; empty unless asked for by `byPlace`.")]
    public IEnumerable<PlaceValueView> Places => part.Places
        .Select(place => new PlaceValueView(place.Place, place.Quantity.ToDecimal(), place.Value.ToDecimal()));
}

[Name("PlaceValue")]
[Description("What a place holds of a part.")]
public sealed record PlaceValueView(
    [property: Description("The place.")] string Place,
    [property: Description("What is there.")] decimal Quantity,
    [property: Description("Its share of the part's value; the places' shares add up to it.")] decimal Value);
