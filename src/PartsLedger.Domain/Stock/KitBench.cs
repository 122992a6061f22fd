using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Stock;

/// <summary>
/// Value on the kit bench within one transaction: what goes into kits, or comes out of opened ones, is worth exactly what was put in. What
/// comes off is shared by weight; the last takes the rest, so no remainder is ever lost.
/// </summary>
public sealed class KitBench
{
    private readonly bool _byQuantity;
    private Int128 _weight;
    private Money _value;

    /// <param name="movements">Everything the transaction moves; what goes onto the bench before what comes off.</param>
    public KitBench(IEnumerable<Movement> movements)
    {
        var off = movements.Where(movement => movement.From.Outside == OutsideWorld.Kit).ToList();

        // Where nothing weighs anything, pieces are as good a measure as any.
        _byQuantity = off.TrueForAll(movement => movement.Weight == Money.Zero);
        foreach (var movement in off) _weight += WeightOf(movement);
    }

    public bool IsEmpty => _value == Money.Zero;

    public void Put(Money worth) => _value += worth;

    /// <returns>What the movement's pieces carry off.</returns>
    public Money Take(Movement movement)
    {
        var weight = WeightOf(movement);
        var share = weight == _weight ? _value
            : Money.FromTenThousandths(checked((long)((_value.TenThousandths * weight * 2 + _weight) / (_weight * 2))));
        _weight -= weight;
        _value -= share;
        return share;
    }

    private Int128 WeightOf(Movement movement) => _byQuantity ? movement.Quantity.Thousandths : movement.Weight.TenThousandths;
}
