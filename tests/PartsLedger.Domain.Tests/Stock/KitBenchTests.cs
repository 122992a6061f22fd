using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Domain.Tests.Stock;

public sealed class KitBenchTests
{
    [Fact]
    public void What_comes_off_is_worth_exactly_what_was_put_on_whatever_the_weights()
    {
        var random = new Random(7);
        for (var round = 0; round < 2000; round++)
        {
            var off = Enumerable.Range(0, random.Next(1, 9)).Select(_ => Off(random.Next(1, 5), random.Next(0, 4) == 0 ? 0 : random.Next(0, 1_000_000))).ToList();
            var bench = new KitBench(off);
            var worth = random.NextInt64(0, 1_000_000_000_000);
            bench.Put(Money.FromTenThousandths(worth / 3));
            bench.Put(Money.FromTenThousandths(worth - worth / 3));
            var shares = off.ConvertAll(movement => bench.Take(movement).TenThousandths);
            Assert.True(bench.IsEmpty);
            Assert.Equal(worth, shares.Sum());
            Assert.DoesNotContain(shares, share => share < 0);
        }
    }

    [Fact]
    public void Shares_follow_the_weights_and_pieces_where_nothing_weighs_anything()
    {
        var byWeight = new[] { Off(1, 10_000), Off(1, 20_000) };
        var bench = new KitBench(byWeight);
        bench.Put(Money.FromTenThousandths(100));
        Assert.Equal([33, 67], byWeight.Select(movement => bench.Take(movement).TenThousandths));

        var byPieces = new[] { Off(3, 0), Off(1, 0) };
        bench = new KitBench(byPieces);
        bench.Put(Money.FromTenThousandths(100));
        Assert.Equal([75, 25], byPieces.Select(movement => bench.Take(movement).TenThousandths));
    }

    private static Movement Off(int pieces, long weight) => new(1, Quantity.FromWhole(pieces), Slot.Out(OutsideWorld.Kit, null, StockCondition.New),
        Slot.In(1, null, StockCondition.New), Weight: Money.FromTenThousandths(weight));
}
