namespace PartsLedger.Stock;

/// <summary>The answer to an act on stock: the ledger transaction it became.</summary>
/// <param name="Transaction">The transaction's number.</param>
public sealed record StockPosted(long Transaction, string Act, DateTimeOffset At)
{
    public static StockPosted Of(Posted posted) => new(posted.Id, posted.Act, posted.At);
}
