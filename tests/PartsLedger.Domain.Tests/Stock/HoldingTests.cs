using CsCheck;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Domain.Tests.Stock;

/// <summary>The worked examples are the ones every book on the subject has, with figures of our own, worked by hand.</summary>
public sealed class HoldingTests
{
    [Fact]
    public void Moving_average_by_hand()
    {
        var holding = Average();
        Assert.Equal(Amount(1000), holding.PutIn(Pieces(100), Amount(10)));
        Assert.Equal(Amount(2200), holding.PutIn(Pieces(200), Amount(11)));

        // 3,200 for 300: 10.6667 each, and 150 of them are exactly half.
        Assert.Equal(Amount(10.6667m), holding.UnitCost);
        Assert.Equal(Amount(1600), holding.TakeOut(Pieces(150)));
        holding.PutIn(Pieces(100), Amount(12));

        // 2,800 for 250.
        Assert.Equal(Amount(11.2m), holding.UnitCost);
        Assert.Equal(Amount(2240), holding.TakeOut(Pieces(200)));
        Assert.Equal((Pieces(50), Amount(560)), (holding.OnHand, holding.Value));
    }

    [Fact]
    public void First_in_first_out_by_hand()
    {
        var holding = Fifo();
        holding.PutIn(Pieces(100), Amount(10));
        holding.PutIn(Pieces(200), Amount(11));
        Assert.Equal(Amount(1000 + (50 * 11)), holding.TakeOut(Pieces(150)));
        holding.PutIn(Pieces(100), Amount(12));
        Assert.Equal(Amount((150 * 11) + (50 * 12)), holding.TakeOut(Pieces(200)));
        Assert.Equal((Pieces(50), Amount(600)), (holding.OnHand, holding.Value));
    }

    [Fact]
    public void What_cannot_be_shared_evenly_leaves_with_the_last_piece()
    {
        var holding = Average();
        holding.PutInWorth(Pieces(3), Amount(1));
        Assert.Equal([Amount(0.3333m), Amount(0.3334m), Amount(0.3333m)],
            (Money[])[holding.TakeOut(Pieces(1)), holding.TakeOut(Pieces(1)), holding.TakeOut(Pieces(1))]);
        Assert.Equal(Money.Zero, holding.Value);
    }

    [Fact]
    public void While_there_is_none_a_piece_costs_what_the_part_costs()
    {
        var holding = Average();
        Assert.Equal(Amount(2.5m), holding.UnitCost);
        Assert.Equal(Amount(5), holding.PutIn(Pieces(2), null));
        holding.PutIn(Pieces(2), Amount(4.5m));
        Assert.Equal(Amount(3.5m), holding.PutIn(Pieces(1), null));
    }

    [Fact]
    public void A_reversed_receipt_takes_its_own_layer_first_then_the_oldest()
    {
        var holding = new Holding(Pieces(30), Amount(90), Amount(2.5m),
            [new(1, Pieces(10), Amount(20)), new(2, Pieces(10), Amount(30)), new(3, Pieces(10), Amount(40))]);
        Assert.Equal(Amount(40 + 4), holding.TakeOut(Pieces(12), ownTransaction: 3));
        Assert.Equal([(1L, Pieces(8)), (2L, Pieces(10)), (3L, Quantity.Zero)], holding.Layers.Select(layer => (layer.Transaction, layer.Left)));
    }

    [Fact]
    public void Pieces_worth_nothing_come_and_go()
    {
        foreach (var holding in (Holding[])[Average(), Fifo()])
        {
            holding.PutIn(Pieces(2), Money.Zero);
            Assert.Equal((Money.Zero, Money.Zero), (holding.UnitCost, holding.TakeOut(Pieces(2))));
        }
    }

    [Fact]
    public void More_than_there_is_or_nothing_at_all_is_a_bug()
    {
        foreach (var holding in (Holding[])[Average(), Fifo()])
        {
            holding.PutIn(Pieces(2), Amount(1));
            Assert.Throws<InvariantViolation>(() => holding.TakeOut(Pieces(3)));
            Assert.Throws<InvariantViolation>(() => holding.TakeOut(Quantity.Zero));
            Assert.Throws<InvariantViolation>(() => holding.PutIn(Quantity.Zero, Amount(1)));
            Assert.Throws<InvariantViolation>(() => holding.PutInWorth(Pieces(1), Amount(-1)));
            Assert.Equal((Pieces(2), Amount(2)), (holding.OnHand, holding.Value));
        }
    }

    [Fact]
    public void A_share_is_rounded_half_up_and_survives_the_largest_numbers()
    {
        Assert.Equal(1, Holding.Share(Money.FromTenThousandths(1), Pieces(1), Pieces(2)).TenThousandths);
        Assert.Equal(0, Holding.Share(Money.FromTenThousandths(1), Pieces(1), Pieces(3)).TenThousandths);
        var most = Money.FromTenThousandths(long.MaxValue);
        Assert.Equal(most, Holding.Share(most, Quantity.FromThousandths(long.MaxValue), Quantity.FromThousandths(long.MaxValue)));
        Assert.Equal(long.MaxValue / 2, Holding.Share(most, Quantity.FromThousandths(1L << 61), Quantity.FromThousandths(1L << 62)).TenThousandths - 1);
    }

    [Fact]
    public void Value_out_plus_value_left_is_value_in_and_nothing_is_ever_negative() => Steps.Array[1, 60].Sample(steps =>
    {
        foreach (var holding in (Holding[])[Average(), Fifo()])
        {
            long cameIn = 0, wentOut = 0, pieces = 0;
            foreach (var (goesOut, quantity, cost) in steps)
            {
                if (!goesOut)
                {
                    cameIn += holding.PutIn(Quantity.FromThousandths(quantity), Money.FromTenThousandths(cost)).TenThousandths;
                    pieces += quantity;
                }
                else if (Math.Min(quantity, pieces) is > 0 and var taken)
                {
                    var worth = holding.TakeOut(Quantity.FromThousandths(taken)).TenThousandths;
                    Assert.True(worth >= 0);
                    wentOut += worth;
                    pieces -= taken;
                }
                Assert.Equal(pieces, holding.OnHand.Thousandths);
                Assert.Equal(cameIn, wentOut + holding.Value.TenThousandths);
                Assert.True(holding.Value >= Money.Zero);
                Assert.True(pieces > 0 || holding.Value == Money.Zero);
            }
        }
    });

    [Fact]
    public void First_in_first_out_always_takes_the_oldest_pieces() => Steps.Array[1, 60].Sample(steps =>
    {
        var holding = Fifo();
        var queue = new Queue<(long Receipt, long Cost)>();
        foreach (var (receipt, (goesOut, quantity, cost)) in steps.Index())
        {
            if (!goesOut)
            {
                holding.PutIn(Quantity.FromThousandths(quantity), Money.FromTenThousandths(cost), receipt);

                // Each thousandth of a piece by itself: what a queue of them does needs no arithmetic.
                for (var piece = 0; piece < quantity; piece++) queue.Enqueue((receipt, cost));
            }
            else if (Math.Min(quantity, queue.Count) is > 0 and var taken)
            {
                var worth = holding.TakeOut(Quantity.FromThousandths(taken)).TenThousandths * Quantity.PerWhole;
                long exact = 0;
                for (var piece = 0; piece < taken; piece++) exact += queue.Dequeue().Cost;

                // A layer is rounded when it comes in and each time it is taken from: half a ten-thousandth, and as much that it still owed.
                Assert.InRange(worth - exact, -(steps.Length + 2) * Quantity.PerWhole, (steps.Length + 2) * Quantity.PerWhole);
            }
            var left = holding.Layers.Where(layer => layer.Left > Quantity.Zero).SelectMany(layer => Enumerable.Repeat(layer.Transaction, (int)layer.Left.Thousandths));
            Assert.Equal(queue.Select(piece => piece.Receipt), left);
            Assert.Equal(queue.Count, holding.Layers.Sum(layer => layer.Left.Thousandths));
            Assert.Equal(holding.Value.TenThousandths, holding.Layers.Sum(layer => layer.ValueLeft.TenThousandths));
        }
    });

    [Fact]
    public void Moving_average_takes_out_at_the_average_to_half_a_ten_thousandth() => Steps.Array[1, 60].Sample(steps =>
    {
        var holding = Average();
        foreach (var (goesOut, quantity, cost) in steps)
        {
            var (onHand, value) = (holding.OnHand.Thousandths, holding.Value.TenThousandths);
            if (!goesOut) holding.PutIn(Quantity.FromThousandths(quantity), Money.FromTenThousandths(cost));
            else if (Math.Min(quantity, onHand) is > 0 and var taken)
            {
                var worth = holding.TakeOut(Quantity.FromThousandths(taken)).TenThousandths;
                Assert.True(Math.Abs((worth * onHand) - (value * taken)) * 2 <= onHand);
            }
        }
    });

    private static readonly Gen<(bool GoesOut, long Quantity, long Cost)> Steps =
        Gen.Select(Gen.Bool, Gen.Long[1, 300], Gen.Long[0, 100_000]);

    private static Holding Average() => new(Quantity.Zero, Money.Zero, Amount(2.5m));

    private static Holding Fifo() => new(Quantity.Zero, Money.Zero, Amount(2.5m), []);

    private static Quantity Pieces(long pieces) => Quantity.FromWhole(pieces);

    private static Money Amount(decimal amount) => Money.FromTenThousandths((long)(amount * Money.PerUnit));
}
