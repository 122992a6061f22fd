using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Stock;

/// <summary>How the shop values what leaves: at the average of all it has, or at what the oldest receipt cost.</summary>
public enum Costing { Average, Fifo }

/// <summary>
/// What the shop owns of one part and what that is worth, exact to the ten-thousandth. Taking out never leaves value behind without
/// pieces, nor pieces' value below zero; what goes out plus what stays is what was there.
/// </summary>
public sealed class Holding(Quantity onHand, Money value, Money listCost, IEnumerable<CostLayer>? layers = null)
{
    // Oldest first; null under average costing. The layers' sums are the holding's.
    private readonly List<CostLayer>? _layers = layers?.ToList();

    public Quantity OnHand { get; private set; } = onHand;

    public Money Value { get; private set; } = value;

    public IReadOnlyList<CostLayer> Layers => _layers ?? [];

    /// <summary>What one piece is worth on average, rounded half up; the part's own cost while there is none.</summary>
    public Money UnitCost => OnHand > Quantity.Zero ? Share(Value, Quantity.FromWhole(1), OnHand) : listCost;

    /// <summary>Pieces come in at a price each; their value is price times quantity, rounded to the ten-thousandth.</summary>
    /// <returns>The value that came in.</returns>
    public Money PutIn(Quantity quantity, Money? unitCost, long transactionOrder = long.MaxValue) =>
        PutInWorth(quantity, (unitCost ?? UnitCost) * quantity, transactionOrder);

    /// <summary>Pieces come in with the value they left with.</summary>
    public Money PutInWorth(Quantity quantity, Money worth, long transactionOrder = long.MaxValue)
    {
        Invariant.Holds(quantity > Quantity.Zero);
        Invariant.Holds(worth >= Money.Zero);
        OnHand += quantity;
        Value += worth;
        _layers?.Add(new CostLayer(transactionOrder, quantity, worth));
        return worth;
    }

    /// <summary>
    /// Pieces go out: at their share of the whole value, or from the oldest layers. <paramref name="ownTransaction"/>, when a receipt is
    /// reversed, names the layer to take from first.
    /// </summary>
    /// <returns>The value that went out.</returns>
    public Money TakeOut(Quantity quantity, long? ownTransaction = null)
    {
        Invariant.Holds(quantity > Quantity.Zero);
        Invariant.Holds(quantity <= OnHand);
        var worth = _layers is null ? Share(Value, quantity, OnHand) : TakeLayers(quantity, ownTransaction);
        OnHand -= quantity;
        Value -= worth;
        Invariant.Holds(OnHand > Quantity.Zero || Value == Money.Zero);
        return worth;
    }

    private Money TakeLayers(Quantity quantity, long? ownTransaction)
    {
        var worth = Money.Zero;
        var order = _layers!.OrderBy(layer => layer.Transaction != ownTransaction).ToList();
        foreach (var layer in order)
        {
            if (quantity == Quantity.Zero) break;
            var taken = Quantity.Min(quantity, layer.Left);
            if (taken == Quantity.Zero) continue;
            worth += layer.Take(taken);
            quantity -= taken;
        }
        Invariant.Holds(quantity == Quantity.Zero);
        return worth;
    }

    /// <summary>value × part ÷ whole, rounded half up to the ten-thousandth; the whole is the whole value.</summary>
    public static Money Share(Money value, Quantity part, Quantity whole) => part == whole ? value : Money.FromTenThousandths(
        checked((long)(((Int128)value.TenThousandths * part.Thousandths * 2 + whole.Thousandths) / ((Int128)whole.Thousandths * 2))));
}

/// <summary>What is left of one receipt.</summary>
public sealed class CostLayer(long transaction, Quantity left, Money valueLeft)
{
    /// <summary>The transaction that brought it.</summary>
    public long Transaction { get; } = transaction;

    public Quantity Left { get; private set; } = left;

    public Money ValueLeft { get; private set; } = valueLeft;

    internal Money Take(Quantity quantity)
    {
        var worth = Holding.Share(ValueLeft, quantity, Left);
        Left -= quantity;
        ValueLeft -= worth;
        return worth;
    }
}
