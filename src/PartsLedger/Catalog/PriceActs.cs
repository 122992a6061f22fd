using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Stock;

namespace PartsLedger.Catalog;

/// <summary>What the API can do to prices.</summary>
public sealed class PriceActs
{
    private PriceActs() { }

    [Description("Sets what parts are sold for, all or none. What was promised for a job stays as it was.")]
    public static Task<Payload<PricesSetView>> SetPrices([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("1 to 500 parts, each once.")] IReadOnlyList<PriceInput> prices, CancellationToken cancellation = default) =>
        acting.Act<SetPrices.Command, SetPrices.Answer, PricesSetView>(prices.Read(price => price.Line()).Then<SetPrices.Command>(lines => new SetPrices.Command(requestId, lines)),
            answer => new PricesSetView(answer), cancellation);
}

[Name("PriceInput")]
[Description("What a part is sold for.")]
public sealed record PriceInput
{
    [Description("The part's own number.")]
    public required string Part { get; init; }

    [Description("What one piece is sold for, in the shop's currency; left out, it has no price any more.")]
    public decimal? Price { get; init; }

    [Description("Refused where the price now is another one than was seen.")]
    public PriceSeenInput? Seen { get; init; }

    internal Outcome<SetPrices.Line> Line()
    {
        var seen = (Seen?.Price).ToMoney();
        if (!seen.Succeeded) return seen.Refusal;
        return Price.ToMoney().Then<SetPrices.Line>(price => new SetPrices.Line(Part, price.Money, Seen is null ? null : new SetPrices.Seen(seen.Result.Money)));
    }
}

[Name("PriceSeenInput")]
[Description("The price that was looked at.")]
public sealed record PriceSeenInput
{
    [Description("In the shop's currency; left out for a part without a price.")]
    public decimal? Price { get; init; }
}

[Name("PricesSet")]
[Description("The parts whose price was set.")]
public sealed class PricesSetView(SetPrices.Answer answer)
{
    [Description("Their numbers, as written.")]
    public IEnumerable<string> Parts => answer.Parts;
}
