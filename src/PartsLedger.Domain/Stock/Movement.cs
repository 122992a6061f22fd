using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Stock;

/// <summary>
/// Where pieces are, or where they come from or go to outside the shop, in which lot and condition. Exactly one of
/// <paramref name="LocationId"/> and <paramref name="Outside"/> is set: use <see cref="In"/> and <see cref="Out"/>.
/// </summary>
public readonly record struct Slot(int? LocationId, OutsideWorld? Outside, int? LotId, StockCondition Condition)
{
    public static Slot In(int locationId, int? lotId, StockCondition condition) => new(locationId, null, lotId, condition);

    public static Slot Out(OutsideWorld outside, int? lotId, StockCondition condition) => new(null, outside, lotId, condition);

    public bool IsInside => LocationId is not null;
}

/// <summary>Pieces of one part going from one slot to another: what every act on stock comes down to.</summary>
/// <param name="Quantity">Above zero.</param>
/// <param name="UnitCost">
/// What one piece costs when it comes in from outside (a receipt's price); null takes what the shop's pieces cost on average.
/// </param>
/// <param name="Worth">What they are worth together when they come back as they left; null otherwise.</param>
/// <param name="Weight">By which pieces that come off the kit bench share in what is put on it; see <see cref="KitBench"/>.</param>
public sealed record Movement(int PartId, Quantity Quantity, Slot From, Slot To, Money? UnitCost = null, Money? Worth = null, Money Weight = default);
