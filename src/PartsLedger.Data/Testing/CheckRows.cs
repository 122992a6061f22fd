using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Jobs;

namespace PartsLedger.Data.Testing;

/// <summary>
/// What one check came to, with the check as it read then. A later row for the same sequence takes its place; none is ever changed.
/// </summary>
public sealed class JobCheckRow
{
    public long Id { get; private set; }
    public int JobId { get; init; }
    public JobRow Job { get; init; } = null!;
    public int Sequence { get; init; }
    public required string Text { get; init; }
    public string? Expected { get; init; }
    public string? Unit { get; init; }
    public CheckResult Result { get; init; }

    /// <summary>In the check's unit, in millionths of it.</summary>
    public long? ValueMillionths { get; init; }

    /// <summary>As it was given, with its own unit.</summary>
    public string? Given { get; init; }
    public string? Why { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
    public JobCheckSignatureRow? Signature { get; init; }
}

/// <summary>A supervisor lets a failed or skipped check pass, for a reason.</summary>
public sealed class JobCheckSignatureRow
{
    public long Id { get; private set; }
    public long CheckId { get; init; }
    public JobCheckRow Check { get; init; } = null!;
    public required string Why { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
}
