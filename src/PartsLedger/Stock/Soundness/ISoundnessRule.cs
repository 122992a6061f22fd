namespace PartsLedger.Stock.Soundness;

/// <summary>
/// Something that must always hold. A rule reads through the run, all of one moment, and tells it every breach; it changes nothing. Rules do
/// not rely on one another, so the order does not matter.
/// </summary>
public interface ISoundnessRule
{
    /// <summary>Stable, in upper case with underscores: what programs know the rule by.</summary>
    string Code { get; }

    Task Check(SoundnessRun run, CancellationToken cancellation);
}

/// <summary>A rule that does not hold somewhere.</summary>
/// <param name="Where">What it does not hold for: a transaction, a part in a place …</param>
/// <param name="What">How it is broken, in one sentence.</param>
public sealed record Breach(string Rule, string Where, string What);

/// <summary>Every rule that <c>verify</c> holds the shop's data against.</summary>
public static class SoundnessRules
{
    public static IReadOnlyList<ISoundnessRule> All { get; } =
    [
        new LinesSumToZero(), new BalancesEqualLines(), new PartsEqualLines(), new LayersEqualParts(), new NothingIsNegative(), new ReservedIsSpokenFor(),
        new RequestsPostOnce(), new ReversalsTakeBackOnce(), new FeedIsWhole(), new KitsCostTheirParts(), new PairsAreWhole(), new ReleasedJobsAreRight(),
        new AuditIsWhole(),
    ];
}
