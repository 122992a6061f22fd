namespace PartsLedger.Domain.Jobs;

/// <summary>
/// Everything the course of one job depends on, at one moment. What is still to be done is told in words, each a thing of its own.
/// </summary>
/// <param name="Number">The job's own number.</param>
/// <param name="Stopped">Why nothing may go on (the bench showed another class), or null.</param>
/// <param name="VariantSettled">One variant, not several candidates.</param>
/// <param name="CoreToTearDown">The tag of the core that is not torn down yet, or null when there is none to wait for.</param>
/// <param name="IsExchange">The unit is built from the shop's own parts: there is nothing to tear down first.</param>
public sealed record JobStanding(
    string Number, JobState State, string? Stopped = null, bool VariantSettled = false, string? CoreToTearDown = null,
        bool IsExchange = false)
{
    /// <summary>Lines of the accepted list that are neither pulled nor put down as short.</summary>
    public IReadOnlyList<string> ToPull { get; init; } = [];

    /// <summary>
    /// What is wrong with the fitted pair, its class or its shims, as of now; empty when all is well or no pair is needed.
    /// </summary>
    public IReadOnlyList<string> PairFaults { get; init; } = [];

    /// <summary>Checks without any result.</summary>
    public IReadOnlyList<string> ChecksToDo { get; init; } = [];

    /// <summary>Checks that failed or were skipped and that no supervisor signed.</summary>
    public IReadOnlyList<string> ChecksToSign { get; init; } = [];

    /// <summary>Parts in the pump that are, or hold something, of another pressure class.</summary>
    public IReadOnlyList<string> OtherClassParts { get; init; } = [];

    /// <summary>What the last run on the bench came to; null when there was none since the pump was last assembled.</summary>
    public BenchVerdict? Bench { get; init; }

    /// <summary>Pieces out of packs that are neither put back nor kept with the kit.</summary>
    public IReadOnlyList<string> SurplusLeft { get; init; } = [];

    /// <summary>Pieces that the job has in hand and that could come back.</summary>
    public IReadOnlyList<string> InHand { get; init; } = [];
}
