using System.ComponentModel;
using GraphQL;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Stock;

/// <summary>What the API can be asked about the worth of stock.</summary>
public sealed class ShelfFields
{
    private ShelfFields() { }

    [Description("What everything on the shelves is worth.")]
    public static async Task<StockValueView> StockValue([FromServices] Asking asking,
        [Description("Also where each part lies.")] bool byPlace = false, CancellationToken cancellation = default) =>
        new(await asking.Answer<StockValue.Query, StockValue.Answer>(new(byPlace), cancellation));
}
