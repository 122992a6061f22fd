namespace PartsLedger.Data.Hosting;

/// <summary>A request that was carried out: its id, what was asked, and the first answer, which a repeat gets again.</summary>
public sealed class RequestRow
{
    public required string RequestId { get; init; }
    public required string Kind { get; init; }

    /// <summary>SHA-256 of the request's content in hexadecimal: the same id with other content is refused.</summary>
    public required string Fingerprint { get; init; }

    /// <summary>The answer as JSON, refusals included.</summary>
    public required string Answer { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
}
