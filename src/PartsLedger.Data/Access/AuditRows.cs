using PartsLedger.Domain.Access;

namespace PartsLedger.Data.Access;

/// <summary>
/// Who did, saw or was refused what, from where and when. Written in the act's own transaction and without a place: entries of acts that
/// run side by side do not wait for one another.
/// </summary>
public sealed class AuditEntryRow
{
    /// <summary>Chosen by the program before writing; 32 hexadecimal digits, unlike any other.</summary>
    public required string Id { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public AuditKind Kind { get; init; }

    /// <summary>The use case: <c>MoveStock</c>.</summary>
    public required string What { get; init; }

    /// <summary>Whom or what it concerned, by name, where the use case says so.</summary>
    public string? About { get; init; }

    /// <summary>The refusal's code.</summary>
    public string? Code { get; init; }

    /// <summary>Leads from an act to what it wrote.</summary>
    public string? RequestId { get; init; }
    public Way Way { get; init; }

    /// <summary>The address it came from, where it came over the network.</summary>
    public string? Address { get; init; }
}

/// <summary>An entry's place in the chain, given once after it was committed, and the hash that holds it and all before it fast.</summary>
public sealed class AuditSealRow
{
    public long Position { get; init; }
    public required string EntryId { get; init; }
    public AuditEntryRow Entry { get; init; } = null!;
    public required string Hash { get; init; }
}

/// <summary>A committed entry that has no place in the chain yet.</summary>
public sealed class AuditWaitingRow
{
    public required string EntryId { get; init; }
    public AuditEntryRow Entry { get; init; } = null!;
}
