using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>Splitting a lot and merging lots.</summary>
public abstract class LotSpecification<TStore>(TStore store) : JobSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_split_lot_is_as_old_as_the_one_it_came_from()
    {
        await ReceiveLot(10, "L1", 90);
        await Done<SplitLot.Command, StockPosted>(new(NewId(), LotSeal, "l1", "A-01", Pieces(4), "L1-B"));
        Assert.Equal([("L1", Pieces(6)), ("L1-B", Pieces(4))], await Lots());
        Assert.Equal(Today.AddDays(90), await Expiry("L1-B"));
        await NothingWasMade();
    }

    [Fact]
    public async Task Merged_lots_expire_with_the_first_of_them()
    {
        await ReceiveLot(3, "L1", 30);
        await ReceiveLot(4, "L2", 90, "A-02");
        await ReceiveLot(5, "L3", 60, condition: StockCondition.Used);
        await Done<MergeLots.Command, StockPosted>(new(NewId(), LotSeal, ["L1", "L2"], "L3"));
        Assert.Equal([("L3", Pieces(3)), ("L3", Pieces(4)), ("L3", Pieces(5))], await Lots());
        Assert.Equal(Pieces(4), await OnHand(LotSeal, "A-02"));
        Assert.Equal(Today.AddDays(30), await Expiry("L3"));
        await NothingWasMade();
    }

    [Fact]
    public async Task The_cure_date_of_a_merged_lot_is_kept_only_where_all_are_known()
    {
        await Accepted(new ReceiveStock.Command(NewId(), "DN 1",
        [
            new(LotSeal, "A-01", Pieces(1), null, "L1", Today.AddDays(-100), Today.AddDays(500)),
            new(LotSeal, "A-01", Pieces(1), null, "L2", null, Today.AddDays(-200)),
            new(LotSeal, "A-01", Pieces(1), null, "L3", Today.AddDays(-300), null),
        ]));
        await Accepted(new MergeLots.Command(NewId(), LotSeal, ["L3"], "L1"));
        Assert.Equal((Today.AddDays(-300), Today.AddDays(500)), await Dates("L1"));
        await Accepted(new MergeLots.Command(NewId(), LotSeal, ["L2"], "L1"));
        Assert.Equal((null, Today.AddDays(-200)), await Dates("L1"));
    }

    [Fact]
    public async Task Only_one_place_is_merged_when_one_is_named()
    {
        await ReceiveLot(3, "L1", 30);
        await ReceiveLot(4, "L1", 30, "A-02");
        await ReceiveLot(1, "L2", 90);
        await Accepted(new MergeLots.Command(NewId(), LotSeal, ["L1"], "L2", "A-02"));
        Assert.Equal([("L1", Pieces(3)), ("L2", Pieces(1)), ("L2", Pieces(4))], await Lots());
    }

    [Fact]
    public async Task Reserved_pieces_stay_with_their_lot()
    {
        await ReceiveLot(5, "L1", 30);
        await ReceiveLot(1, "L2", 90);
        await Reserve("J-7", LotSeal, 3);
        await Refused("NOT_ENOUGH_FREE", new SplitLot.Command(NewId(), LotSeal, "L1", "A-01", Pieces(3), "L1-B"));
        await Done<MergeLots.Command, StockPosted>(new(NewId(), LotSeal, ["L1"], "L2"));
        Assert.Equal([("L1", Pieces(3)), ("L2", Pieces(3))], await Lots());
        Assert.Contains("for job J-7", (await Refused("NOT_ENOUGH_FREE", new MergeLots.Command(NewId(), LotSeal, ["L1"], "L2"))).Sentence,
            StringComparison.Ordinal);
        Assert.Equal(Today.AddDays(30), await Expiry("L2"));
    }

    [Fact]
    public async Task Bad_splits_are_refused_with_what_to_do()
    {
        await Receive(LotSeal, 5, lot: "L1");
        await Receive(LotSeal, 5, lot: "L2");
        await Receive(Housing, 1, lot: "S 1");
        await Receive(Seal, 5);
        var good = new SplitLot.Command(NewId(), LotSeal, "L1", "A-01", Pieces(1), "L1-B");
        await Refused("LOT_EXISTS", good with { RequestId = NewId(), NewLot = "l2" });
        await Refused("LOT_EXISTS", good with { RequestId = NewId(), NewLot = "L1" });
        await Refused("TRACKED_ONE_BY_ONE", good with { RequestId = NewId(), Part = Housing, Lot = "S 1" });
        await Refused("UNKNOWN_LOT", good with { RequestId = NewId(), Lot = "L9" });
        await Refused("LOT_OF_ANOTHER_PART", good with { RequestId = NewId(), Part = Seal });
        await Refused("UNKNOWN_PART", good with { RequestId = NewId(), Part = "no such part" });
        await Refused("UNKNOWN_LOCATION", good with { RequestId = NewId(), Place = "Z-99" });
        await Refused("NOT_ENOUGH", good with { RequestId = NewId(), Quantity = Pieces(6) });
        await Refused("QUANTITY_NOT_POSITIVE", good with { RequestId = NewId(), Quantity = Pieces(0) });
        await Refused("QUANTITY_NOT_WHOLE", good with { RequestId = NewId(), Quantity = Quantity.FromThousandths(1) });
        await Refused("NAME_MISSING", good with { RequestId = NewId(), NewLot = "" });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), NewLot = new string('x', 10_000) });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), Note = new string('x', 10_000) });
        Assert.Equal(3, await Store.With(db => db.Lots.CountAsync()));
    }

    [Fact]
    public async Task Bad_merges_are_refused_with_what_to_do()
    {
        await Receive(LotSeal, 5, lot: "L1");
        await Receive(LotSeal, 5, lot: "L2");
        await Receive(LotSeal, 1, lot: "L3");
        await Accepted(new ScrapStock.Command(NewId(), LotSeal, "A-01", Pieces(1), "bent", "L3"));
        await Receive(Housing, 1, lot: "S 1");
        await Receive(Housing, 1, lot: "S 2");
        var good = new MergeLots.Command(NewId(), LotSeal, ["L1"], "L2");
        await Refused("SAME_LOT", good with { RequestId = NewId(), Into = "l1" });
        await Refused("SAME_LOT", good with { RequestId = NewId(), Lots = ["L1", "L1"] });
        await Refused("NOTHING_TO_DO", good with { RequestId = NewId(), Lots = [] });
        await Refused("NOTHING_TO_MERGE", good with { RequestId = NewId(), Lots = ["L3"] });
        await Refused("NOTHING_TO_MERGE", good with { RequestId = NewId(), Place = "A-02" });
        await Refused("TRACKED_ONE_BY_ONE", good with { RequestId = NewId(), Part = Housing, Lots = ["S 1"], Into = "S 2" });
        await Refused("UNKNOWN_LOT", good with { RequestId = NewId(), Into = "L9" });
        await Refused("LOT_OF_ANOTHER_PART", good with { RequestId = NewId(), Into = "S 1" });
        await Refused("UNKNOWN_PART", good with { RequestId = NewId(), Part = "no such part" });
        await Refused("UNKNOWN_LOCATION", good with { RequestId = NewId(), Place = "Z-99" });
        await Refused("NAME_MISSING", good with { RequestId = NewId(), Lots = [""] });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), Note = new string('x', 10_000) });
    }

    private async Task NothingWasMade() => Assert.All(await Store.With(db => db.StockLines.ToListAsync()).ContinueWith(lines =>
        lines.Result.GroupBy(line => line.TransactionId).ToList()), transaction =>
    {
        Assert.Equal(0, transaction.Sum(line => line.Quantity.Thousandths));
        Assert.Equal(0, transaction.Sum(line => line.Value.TenThousandths));
    });

    private async Task<List<(string, Quantity)>> Lots() =>
        [.. (await Store.With(db => db.StockBalances.Where(row => row.OnHand != Quantity.Zero)
            .Select(row => new { row.Lot!.Code, row.OnHand }).ToListAsync()))
            .Select(row => (row.Code, row.OnHand)).OrderBy(row => row.Code, StringComparer.Ordinal).ThenBy(row => row.OnHand)];

    private async Task<DateOnly?> Expiry(string lot) => (await Dates(lot)).Expires;

    private Task<(DateOnly? Cured, DateOnly? Expires)> Dates(string lot) => Store.With(async db =>
    {
        var row = await db.Lots.SingleAsync(row => row.Code == lot);
        return (row.CuredOn, row.ExpiresOn);
    });
}

public sealed class LotOnSqlite(SqliteStore store) : LotSpecification<SqliteStore>(store);

public sealed class LotOnPostgreSql(PostgreSqlStore store) : LotSpecification<PostgreSqlStore>(store);

public sealed class LotOnSqlServer(SqlServerStore store) : LotSpecification<SqlServerStore>(store);
