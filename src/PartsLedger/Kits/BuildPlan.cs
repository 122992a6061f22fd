using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>One component of a kit and what the shop has of it that may go into a kit: new, usable today.</summary>
/// <param name="Open">What jobs have reserved of it and what has not run out.</param>
public sealed record BuildComponent(StockPart Part, Quantity PerKit, IReadOnlyList<StockBalance> Usable, IReadOnlyList<OpenReservation> Open)
{
    public static BuildComponent Of(
        StockPart part, Quantity perKit, IReadOnlyList<StockBalance> balances, IReadOnlyList<OpenReservation> open, DateTimeOffset now)
    {
        // What was rebuilt or used before is fitted by whoever judges it at the bench, not bagged (common practice, no source).
        var usable = PickOrder.Usable(balances, DateOnly.FromDateTime(now.UtcDateTime)).Where(balance => balance.Condition == StockCondition.New).ToList();
        var ids = usable.Select(balance => balance.Id).ToHashSet();
        return new(part, perKit, usable, [.. open.Where(line => line.ExpiresAt > now && ids.Contains(line.BalanceId))]);
    }

    public Quantity OnHand => Usable.Total(balance => balance.OnHand);

    public Quantity Reserved => Open.Total(line => line.Open);

    public Quantity Free => OnHand - Reserved;

    public Quantity Available(bool alsoFromJobs) => alsoFromJobs ? OnHand : Free;

    /// <summary>
    /// Where to take so many: free pieces, first to expire first; then, if the jobs may be taken from, what they have reserved, last reserved
    /// first.
    /// </summary>
    public IReadOnlyList<BuildPick> Pick(Quantity wanted, bool alsoFromJobs)
    {
        var picks = new List<BuildPick>();
        var reserved = Open.ToLookup(line => line.BalanceId, line => line.Open);
        foreach (var balance in Usable) Take(balance, balance.OnHand - reserved[balance.Id].Total(open => open), null);
        if (alsoFromJobs)
            foreach (var line in Open.OrderByDescending(line => line.LineId)) Take(Usable.First(balance => balance.Id == line.BalanceId), line.Open, line);
        return picks;

        void Take(StockBalance balance, Quantity there, OpenReservation? of)
        {
            var taken = Quantity.Min(wanted, there);
            if (taken <= Quantity.Zero) return;
            picks.Add(new(Part, balance, taken, of));
            wanted -= taken;
        }
    }
}

/// <summary>Pieces that go into kits.</summary>
/// <param name="Of">The reservation they are taken out of; null for free ones.</param>
public sealed record BuildPick(StockPart Part, StockBalance Balance, Quantity Quantity, OpenReservation? Of);

/// <summary>Pieces that a job had reserved and that building takes, or would take.</summary>
public sealed record TakenFromJob(string Job, string Part, Quantity Quantity)
{
    public static IReadOnlyList<TakenFromJob> In(IEnumerable<BuildPick> picks) => [.. picks.Where(pick => pick.Of is not null)
        .GroupBy(pick => (pick.Of!.JobKey, pick.Part.Number)).Select(group => new TakenFromJob(group.First().Of!.Job, group.Key.Number, group.Total(pick => pick.Quantity)))
        .OrderBy(taken => taken.Job, StringComparer.Ordinal).ThenBy(taken => taken.Part, StringComparer.Ordinal)];
}
