using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock;

/// <summary>
/// The order in which pieces are reserved and pulled: first to expire first, what does not expire last; then new before rebuilt before
/// used; then by place. A lot may be used through the day it expires on, in UTC, and not after it.
/// </summary>
public static class PickOrder
{
    public static bool IsExpired(DateOnly? expiresOn, DateOnly today) => expiresOn < today;

    public static bool IsExpired(this StockBalance balance, DateOnly today) => IsExpired(balance.ExpiresOn, today);

    /// <summary>The balances a piece may be taken from, in the order they are taken; the input is in order of place.</summary>
    public static IReadOnlyList<StockBalance> Usable(IEnumerable<StockBalance> balances, DateOnly today) =>
        [.. balances.Where(balance => balance.IsGood && !balance.IsExpired(today))
            .OrderBy(balance => balance.ExpiresOn ?? DateOnly.MaxValue).ThenBy(balance => balance.Condition)];

    public static Quantity Total<T>(this IEnumerable<T> items, Func<T, Quantity> quantity) =>
        items.Aggregate(Quantity.Zero, (sum, item) => sum + quantity(item));
}
