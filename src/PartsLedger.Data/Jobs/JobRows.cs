using PartsLedger.Data.Catalog;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Fit;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Data.Jobs;

/// <summary>
/// A pump being worked on. Its number is the one that stock knows it by: reservations and ledger transactions carry the same key.
/// </summary>
public sealed class JobRow
{
    public int Id { get; private set; }
    public required string Number { get; init; }
    public required string NumberKey { get; init; }
    public string? CustomerReference { get; set; }
    public string? Machine { get; set; }

    /// <summary>The core that is rebuilt; of an exchange, the customer's core that comes in for it, when it does.</summary>
    public int? CoreId { get; set; }
    public CoreRow? Core { get; set; }

    /// <summary>A unit out of the shop's own parts goes out, and the customer's core comes in for it.</summary>
    public bool IsExchange { get; init; }
    public int? VariantId { get; set; }
    public VariantRow? Variant { get; set; }

    /// <summary>Which variants it may be while it is not settled; kept afterwards as what was thought of.</summary>
    public List<JobCandidateRow> Candidates { get; } = [];
    public JobScope JobScope { get; set; }
    public KitPreference Prefer { get; set; }
    public DateOnly? DueOn { get; set; }
    public JobPriority Priority { get; set; }
    public Money? PromisedPrice { get; set; }
    public JobState State { get; set; }

    /// <summary>Why nothing may go on.</summary>
    public string? Stopped { get; set; }

    /// <summary>The matched pair that was scanned into the pump, and its shims as counted then.</summary>
    public int? PairId { get; set; }
    public PairRow? Pair { get; set; }
    public int? FittedShimCount { get; set; }
    public Length? FittedShimStack { get; set; }
    public DateTimeOffset StartedAt { get; init; }
    public required string StartedBy { get; init; }
    public DateTimeOffset? ReleasedAt { get; set; }

    /// <summary>Which of its lists is the accepted one; 0 before the first.</summary>
    public int ListRevision { get; set; }
    public int Version { get; set; }

    /// <summary>How often it was assembled: what the bench showed before the last time no longer counts.</summary>
    public int Assembly { get; set; }

    /// <summary>The pump is open: its pair must be scanned in anew, and its shims counted.</summary>
    public void TakePairOut() => (PairId, FittedShimCount, FittedShimStack) = (null, null, null);
}

public sealed class JobCandidateRow
{
    public int Id { get; private set; }
    public int JobId { get; private set; }
    public JobRow Job { get; private set; } = null!;
    public int VariantId { get; init; }
    public VariantRow Variant { get; init; } = null!;
}

/// <summary>What was found at a position. A later row for the same position takes its place; none is ever changed.</summary>
public sealed class JobFindingRow
{
    public long Id { get; private set; }
    public int JobId { get; init; }
    public JobRow Job { get; init; } = null!;
    public int Position { get; init; }
    public Finding Finding { get; init; }
    public string? Note { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
}

/// <summary>A kit list as it was accepted, whole, with its reasons. The one with the job's list revision counts.</summary>
public sealed class JobListRow
{
    public int Id { get; private set; }
    public int JobId { get; init; }
    public JobRow Job { get; init; } = null!;
    public int Revision { get; init; }

    /// <summary>The kit answer as JSON: what the work sheet is printed from.</summary>
    public required string Answer { get; init; }
    public string? Why { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
    public List<JobListLineRow> Lines { get; } = [];
}

/// <summary>One line of an accepted list: so many of a part, or a matched pair.</summary>
public sealed class JobListLineRow
{
    public long Id { get; private set; }
    public int ListId { get; private set; }
    public JobListRow List { get; private set; } = null!;
    public int Line { get; init; }
    public int? PartId { get; init; }
    public PartRow? Part { get; init; }
    public int? PairId { get; init; }
    public PairRow? Pair { get; init; }
    public Quantity Quantity { get; init; }
}

/// <summary>Pieces of the list that are not pulled, and why: they stay short, or another part takes their place.</summary>
public sealed class JobShortRow
{
    public long Id { get; private set; }
    public int JobId { get; init; }
    public JobRow Job { get; init; } = null!;
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public Quantity Quantity { get; init; }
    public int? SubstituteId { get; init; }
    public PartRow? Substitute { get; init; }
    public Quantity? SubstituteQuantity { get; init; }
    public required string Why { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
}

/// <summary>Pieces out of a pack that the job did not need: back in stock as a lot that names the pack, or kept with the kit.</summary>
public sealed class JobSurplusRow
{
    public long Id { get; private set; }
    public int JobId { get; init; }
    public JobRow Job { get; init; } = null!;
    public int PackId { get; init; }
    public PartRow Pack { get; init; } = null!;
    public int? PackLotId { get; init; }
    public LotRow? PackLot { get; init; }
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public Quantity Quantity { get; init; }

    /// <summary>The lot they went into; null when they were kept with the kit.</summary>
    public int? LotId { get; init; }
    public LotRow? Lot { get; init; }
    public long? TransactionId { get; init; }
    public StockTransactionRow? Transaction { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
}

/// <summary>Something that happened to a job. Never changed once written.</summary>
public sealed class JobEventRow
{
    public long Id { get; private set; }
    public int JobId { get; init; }
    public JobRow Job { get; init; } = null!;

    /// <summary>What happened, in one or two words.</summary>
    public required string What { get; init; }
    public string? Detail { get; init; }
    public string? Why { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
}
