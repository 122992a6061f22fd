using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>Pieces to fetch from one place.</summary>
/// <param name="Reserved">The job has them reserved; else they are free.</param>
public sealed record Fetch(StockPart Part, StockBalance From, Quantity Quantity, bool Reserved)
{
    /// <summary>"2 of 10-4477 from A-02, lot K1 (expires 2031-05-01)".</summary>
    public override string ToString() => FormattableString.Invariant($"{Quantity} of {Part.Number} from {From.Place.Code}")
        + (From.Lot is null ? "" : $", lot {From.Lot}{(From.ExpiresOn is { } on ? FormattableString.Invariant($" (expires {on:yyyy-MM-dd})") : "")}");
}

/// <summary>Where a job fetches its pieces and what is nowhere to be had for it.</summary>
public sealed record PickPlan(IReadOnlyList<Fetch> Fetches, IReadOnlyList<(string Part, Quantity Quantity)> Missing)
{
    /// <summary>
    /// Of one part: the job's reserved pieces first, then free ones; of each the first to expire first. What others have reserved stays.
    /// </summary>
    public static PickPlan Of(
        StockPart part, Quantity wanted, string jobKey, IReadOnlyList<StockBalance> balances, IReadOnlyList<OpenReservation> open,
            DateTimeOffset now)
    {
        var usable = PickOrder.Usable(balances, DateOnly.FromDateTime(now.UtcDateTime));
        var live = open.Where(line => line.ExpiresAt > now).ToLookup(line => line.BalanceId);
        var fetches = new List<Fetch>();
        var left = wanted;
        foreach (var balance in usable)
            Take(balance, live[balance.Id].Where(line => line.JobKey == jobKey).Total(line => line.Open), reserved: true);
        foreach (var balance in usable)
            Take(balance, balance.OnHand - live[balance.Id].Total(line => line.Open), reserved: false);
        return new PickPlan(fetches, left > Quantity.Zero ? [(part.Number, left)] : []);

        void Take(StockBalance balance, Quantity there, bool reserved)
        {
            var taken = Quantity.Min(left, there);
            if (taken <= Quantity.Zero) return;
            fetches.Add(new Fetch(part, balance, taken, reserved));
            left -= taken;
        }
    }

    /// <summary>One walk past the places in the order of their codes; in a place, the first to expire first.</summary>
    public static PickPlan Together(IReadOnlyList<PickPlan> plans) => new(
        [.. plans.SelectMany(plan => plan.Fetches).OrderBy(fetch => Code.KeyOf(fetch.From.Place.Code), StringComparer.Ordinal)
            .ThenBy(fetch => fetch.From.ExpiresOn ?? DateOnly.MaxValue).ThenBy(fetch => fetch.Part.Number, StringComparer.Ordinal)
            .ThenBy(fetch => fetch.From.Lot, StringComparer.Ordinal).ThenByDescending(fetch => fetch.Reserved)],
        [.. plans.SelectMany(plan => plan.Missing).OrderBy(one => one.Part, StringComparer.Ordinal)]);
}
