using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Data.Stock;

public sealed class LocationRow
{
    public int Id { get; private set; }
    public required string Code { get; set; }
    public required string CodeKey { get; set; }
    public required string Name { get; set; }
    public LocationKind Kind { get; set; }
}

/// <summary>A lot of a part: pieces that came together and age together.</summary>
public sealed class LotRow
{
    public int Id { get; private set; }
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public required string Code { get; init; }
    public required string CodeKey { get; init; }
    public DateOnly? CuredOn { get; set; }
    public DateOnly? ExpiresOn { get; set; }
}

/// <summary>
/// One entry of the parts ledger: who, when, why, by which request, and lines that sum to zero for each part. Never changed once written;
/// a mistake is reversed by another transaction that names this one.
/// </summary>
public sealed class StockTransactionRow
{
    public long Id { get; private set; }

    /// <summary>What was done, in one word: receive, move, count …</summary>
    public required string Act { get; init; }
    public required string RequestId { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public string? Why { get; init; }

    /// <summary>What it belongs to (<c>job</c>, <c>kit</c>, <c>receipt</c>, <c>count</c>) and that thing's own number.</summary>
    public string? BelongsTo { get; init; }
    public string? BelongsToRef { get; init; }
    public long? ReversesId { get; init; }
    public StockTransactionRow? Reverses { get; init; }
    public List<StockLineRow> Lines { get; } = [];
}

/// <summary>Pieces that came to (above zero) or left (below zero) one place. Exactly one of location and outside world is set.</summary>
public sealed class StockLineRow
{
    public long Id { get; private set; }
    public long TransactionId { get; private set; }
    public StockTransactionRow Transaction { get; private set; } = null!;
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public int? LocationId { get; init; }
    public LocationRow? Location { get; init; }
    public OutsideWorld? Outside { get; init; }
    public int? LotId { get; init; }
    public LotRow? Lot { get; init; }
    public StockCondition Condition { get; init; }
    public Quantity Quantity { get; init; }
    public Money UnitCost { get; init; }
}

/// <summary>
/// How much of a part is in a place, by lot and condition: derived from the lines, kept beside them for speed, and provable from them.
/// </summary>
public sealed class StockBalanceRow
{
    public long Id { get; private set; }
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public int LocationId { get; init; }
    public LocationRow Location { get; init; } = null!;
    public int? LotId { get; init; }
    public LotRow? Lot { get; init; }

    /// <summary>The lot's id, or 0 for none: a null would not be unique in every database's index.</summary>
    public int LotSlot { get; init; }
    public StockCondition Condition { get; init; }
    public Quantity OnHand { get; set; }
    public Quantity Reserved { get; set; }
}
