using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Planning;

/// <summary>
/// How long stock lasts when it is used on as it was. With the days an order takes this is the reorder point, usage a day × lead time: common
/// practice, no source.
/// </summary>
public static class UsageForecast
{
    /// <param name="free">What may still be used, zero or more.</param>
    /// <param name="used">What was used in <paramref name="days"/> days.</param>
    /// <param name="days">1 or more.</param>
    /// <returns>Whole days that it lasts, rounded down, 9,999 at most; null when nothing was used.</returns>
    public static int? DaysLeft(Quantity free, Quantity used, int days)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        return used <= Quantity.Zero ? null : (int)Int128.Min(9_999, (Int128)free.Thousandths * days / used.Thousandths);
    }
}
