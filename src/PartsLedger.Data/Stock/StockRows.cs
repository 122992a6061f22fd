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

    /// <summary>What one piece cost at that moment, rounded; <see cref="Value"/> is exact.</summary>
    public Money UnitCost { get; init; }

    /// <summary>What the pieces carry along, with the quantity's sign: the lines of a part sum to zero in value too.</summary>
    public Money Value { get; init; }
}

/// <summary>
/// What the shop owns of a part, over all its places: the quantity and its value. Every act on a part changes this row first, so acts
/// on one part happen one after the other while acts on different parts do not wait for each other.
/// </summary>
public sealed class StockPartRow
{
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public Quantity OnHand { get; set; }
    public Money Value { get; set; }
    public long Version { get; set; }

    /// <summary>What it was worth when the ledger was last verified, up to the feed's position of that moment.</summary>
    public Money VerifiedValue { get; set; }
}

/// <summary>What is left of one receipt, oldest used first: kept where the shop values its stock first in, first out.</summary>
public sealed class CostLayerRow
{
    public long Id { get; private set; }
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public long TransactionId { get; init; }
    public StockTransactionRow Transaction { get; init; } = null!;
    public Quantity Left { get; set; }
    public Money ValueLeft { get; set; }
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

    /// <summary>What was on hand when the ledger was last verified, up to the feed's position of that moment.</summary>
    public Quantity VerifiedOnHand { get; set; }
}

/// <summary>Pieces kept for a job until it pulls them, gives them back, or the time runs out.</summary>
public sealed class ReservationRow
{
    public long Id { get; private set; }

    /// <summary>The job's own number, as the shop writes it.</summary>
    public required string Job { get; init; }
    public required string JobKey { get; init; }
    public DateTimeOffset MadeAt { get; init; }
    public required string MadeBy { get; init; }
    public DateTimeOffset ExpiresAt { get; set; }
    public List<ReservationLineRow> Lines { get; } = [];
}

/// <summary>Pieces of one balance that are spoken for. What was pulled or released is no longer open.</summary>
public sealed class ReservationLineRow
{
    public long Id { get; private set; }
    public long ReservationId { get; private set; }
    public ReservationRow Reservation { get; private set; } = null!;
    public long BalanceId { get; init; }
    public StockBalanceRow Balance { get; init; } = null!;
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public Quantity Reserved { get; init; }
    public Quantity Open { get; set; }
}

/// <summary>One blind count of one balance: what was found, before anybody was told what was expected.</summary>
public sealed class StockCountRow
{
    public long Id { get; private set; }
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public int LocationId { get; init; }
    public LocationRow Location { get; init; } = null!;
    public int LotSlot { get; init; }
    public StockCondition Condition { get; init; }
    public Quantity Counted { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }

    /// <summary>Waiting for a second count because the difference was large.</summary>
    public bool Waiting { get; set; }
}

/// <summary>A place in the order in which other programs follow the ledger: given once, after the transaction was committed.</summary>
public sealed class StockFeedRow
{
    public long Position { get; init; }
    public long TransactionId { get; init; }
    public StockTransactionRow Transaction { get; init; } = null!;
}

/// <summary>A committed transaction that has no place in the feed yet.</summary>
public sealed class StockUnfedRow
{
    public long TransactionId { get; init; }
    public StockTransactionRow Transaction { get; init; } = null!;
}
