using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

/// <summary>
/// What the shop has of one part, for an act that takes free pieces from named places. What an earlier line of the same act took is no
/// longer there for the next.
/// </summary>
/// <param name="open">What anybody has reserved of the part.</param>
public sealed class Shelf(StockPart part, IReadOnlyList<StockBalance> balances, IReadOnlyList<OpenReservation> open)
{
    private readonly Dictionary<long, Quantity> _taken = [];

    public StockPart Part => part;

    public IReadOnlyList<StockBalance> Balances => balances;

    public StockBalance? At(Slot slot) => balances.FirstOrDefault(balance => balance.Slot == slot);

    /// <summary>Who has reserved pieces of this balance, as a sentence; empty when nobody has.</summary>
    public string Holders(StockBalance balance) => HeldPieces.Sentence(HeldPieces.In(open.Where(line => line.BalanceId == balance.Id)));

    /// <summary>Takes what a person asked for: whole pieces where they are whole, of a lot where the part has lots.</summary>
    public Outcome<StockBalance> Take(StockPlace place, StockLot? lot, StockCondition condition, Quantity quantity)
    {
        if (part.WholePieces && !quantity.IsWhole) return StockRefusals.NotWhole(part.Number, quantity);
        if (part.Tracking != Tracking.Bulk && lot is null) return StockRefusals.LotMissing(part.Number);
        return Take(Slot.In(place.Id, lot?.Id, condition), place.Code, quantity);
    }

    public Outcome<StockBalance> Take(Slot slot, string place, Quantity quantity)
    {
        if (At(slot) is not { } balance) return StockRefusals.NotEnough(part.Number, place, quantity, Quantity.Zero, Quantity.Zero);
        var taken = _taken.GetValueOrDefault(balance.Id);
        if (quantity > balance.OnHand - taken)
            return StockRefusals.NotEnough(part.Number, place, quantity, balance.OnHand - taken, Quantity.Max(Quantity.Zero, balance.Free - taken));
        if (quantity > balance.Free - taken) return StockRefusals.NotEnoughFree(part.Number, quantity, balance.Free - taken, Holders(balance));
        _taken[balance.Id] = taken + quantity;
        return balance;
    }
}
