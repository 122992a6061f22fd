using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>Pieces that leave the shop or are set aside: supplier returns, scrap, quarantine.</summary>
public abstract class ShelfSpecification<TStore>(TStore store) : JobSpecification<TStore>(store) where TStore : Store
{
    private static readonly string Long = new('x', 10_000);

    [Fact]
    public async Task Scrapped_pieces_are_gone_with_their_share_of_the_value()
    {
        await Receive(Seal, 10, cost: 2.00m);
        await Receive(Seal, 10, cost: 3.00m);
        var posted = await Done<ScrapStock.Command, StockPosted>(new(NewId(), Seal, "A-01", Pieces(4), "nicked by the press"));
        Assert.Equal("scrap", posted.Act);
        Assert.Equal(Pieces(16), await OnHand(Seal, "A-01"));
        Assert.Equal((Each(10.00m), "nicked by the press"), await Store.With(async db =>
        {
            var line = await db.StockLines.Include(row => row.Transaction).SingleAsync(row => row.Outside == OutsideWorld.Scrap);
            return (line.Value, line.Transaction.Why);
        }));
    }

    [Fact]
    public async Task A_supplier_return_takes_every_line_or_none()
    {
        await Receive(Seal, 5);
        await Receive(LotSeal, 3, lot: "L1");
        await Refused("NOT_ENOUGH", Return(new(Seal, "A-01", Pieces(2)), new(LotSeal, "A-01", Pieces(4), "L1")));
        await Refused("NOT_ENOUGH", Return(new(Seal, "A-01", Pieces(3)), new(Seal, "A-01", Pieces(3))));
        var posted = await Done<ReturnToSupplier.Command, StockPosted>(Return(new(Seal, "A-01", Pieces(2)), new(LotSeal, "A-01", Pieces(3), "l1")));
        Assert.Equal(Pieces(3), await OnHand(Seal, "A-01"));
        Assert.Equal(Quantity.Zero, await OnHand(LotSeal, "A-01"));
        var transaction = await Store.With(db => db.StockTransactions.SingleAsync(row => row.Id == posted.Transaction));
        Assert.Equal(("supplier-return", "RN 7"), (transaction.BelongsTo, transaction.BelongsToRef));
    }

    [Fact]
    public async Task Quarantined_pieces_are_on_hand_and_not_available()
    {
        await Receive(Seal, 10);
        await Accepted(new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(3), "wrong durometer"));
        await Accepted(new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(2), "wrong durometer", "HOLD"));
        Assert.Equal((Pieces(8), Pieces(2), Pieces(5)), (await OnHand(Seal, "A-01"), await OnHand(Seal, "HOLD"), await Available(Seal)));
    }

    [Fact]
    public async Task Released_pieces_are_available_in_the_condition_they_were_found_in()
    {
        await Receive(Seal, 10);
        await Accepted(new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(3), "wrong durometer"));
        await Accepted(new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(2), "wrong durometer", "HOLD"));
        await Accepted(new ReleaseFromQuarantine.Command(NewId(), Seal, "A-01", Pieces(3), StockCondition.Used, "measured again"));
        await Done<ReleaseFromQuarantine.Command, StockPosted>(new(NewId(), Seal, "HOLD", Pieces(2), StockCondition.New, "measured again", "A-02"));
        Assert.Equal((Pieces(10), Pieces(2)), (await Available(Seal), await OnHand(Seal, "A-02")));
        Assert.Equal(Pieces(3), await Store.With(db =>
            db.StockBalances.Where(row => row.Condition == StockCondition.Used).Select(row => row.OnHand).SingleAsync()));
    }

    [Fact]
    public async Task Reserved_pieces_are_neither_scrapped_nor_returned_nor_quarantined()
    {
        await Receive(Seal, 5);
        await Reserve("J-7", Seal, 3);
        Assert.Contains("3 for job J-7", (await Refused("NOT_ENOUGH_FREE", new ScrapStock.Command(NewId(), Seal, "A-01", Pieces(3), "bent"))).Sentence,
            StringComparison.Ordinal);
        await Refused("NOT_ENOUGH_FREE", new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(3), "bent"));
        await Refused("NOT_ENOUGH_FREE", Return(new ReturnToSupplier.Line(Seal, "A-01", Pieces(3))));
        await Accepted(new ScrapStock.Command(NewId(), Seal, "A-01", Pieces(2), "bent"));
    }

    [Fact]
    public async Task Bad_scrap_is_refused_with_what_to_do()
    {
        await Receive(Seal, 3);
        await Receive(LotSeal, 3, lot: "L1");
        var good = new ScrapStock.Command(NewId(), Seal, "A-01", Pieces(1), "bent");
        await Refused("UNKNOWN_PART", good with { RequestId = NewId(), Part = "no such part" });
        await Refused("UNKNOWN_LOCATION", good with { RequestId = NewId(), From = "Z-99" });
        await Refused("UNKNOWN_LOT", good with { RequestId = NewId(), Part = LotSeal, Lot = "L9" });
        await Refused("LOT_OF_ANOTHER_PART", good with { RequestId = NewId(), Lot = "L1" });
        await Refused("LOT_MISSING", good with { RequestId = NewId(), Part = LotSeal });
        await Refused("QUANTITY_NOT_POSITIVE", good with { RequestId = NewId(), Quantity = Quantity.Zero });
        await Refused("QUANTITY_NOT_POSITIVE", good with { RequestId = NewId(), Quantity = -Pieces(1) });
        await Refused("QUANTITY_NOT_WHOLE", good with { RequestId = NewId(), Quantity = Quantity.FromThousandths(1500) });
        await Refused("QUANTITY_TOO_LARGE", good with { RequestId = NewId(), Quantity = Quantity.FromThousandths(long.MaxValue) });
        await Refused("NOT_ENOUGH", good with { RequestId = NewId(), Quantity = Pieces(4) });
        await Refused("NOT_ENOUGH", good with { RequestId = NewId(), Condition = StockCondition.Used });
        await Refused("REASON_MISSING", good with { RequestId = NewId(), Reason = " " });
        await Refused("NAME_MISSING", good with { RequestId = NewId(), Part = "" });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), Reason = Long });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), Part = Long });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), From = Long });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), Lot = Long });
        await Refused("REQUEST_ID_MISSING", good with { RequestId = Long });
    }

    [Fact]
    public async Task Bad_supplier_returns_are_refused_with_what_to_do()
    {
        await Receive(Seal, 3);
        await Refused("NOTHING_TO_DO", Return());
        await Refused("TOO_MANY_LINES", Return([.. Enumerable.Repeat(new ReturnToSupplier.Line(Seal, "A-01", Pieces(1)), 501)]));
        await Refused("NAME_MISSING", Return(new ReturnToSupplier.Line(Seal, "A-01", Pieces(1))) with { Document = "" });
        await Refused("TEXT_TOO_LONG", Return(new ReturnToSupplier.Line(Seal, "A-01", Pieces(1))) with { Document = Long });
        await Refused("TEXT_TOO_LONG", Return(new ReturnToSupplier.Line(Seal, "A-01", Pieces(1))) with { Note = Long });
        await Refused("UNKNOWN_PART", Return(new ReturnToSupplier.Line("no such part", "A-01", Pieces(1))));
        await Refused("UNKNOWN_LOCATION", Return(new ReturnToSupplier.Line(Seal, "Z-99", Pieces(1))));
        await Refused("QUANTITY_NOT_POSITIVE", Return(new ReturnToSupplier.Line(Seal, "A-01", Pieces(0))));
        await Refused("QUANTITY_NOT_WHOLE", Return(new ReturnToSupplier.Line(Seal, "A-01", Quantity.FromThousandths(1))));
        await Refused("LOT_MISSING", Return(new ReturnToSupplier.Line(LotSeal, "A-01", Pieces(1))));
    }

    [Fact]
    public async Task Bad_quarantine_is_refused_with_what_to_do()
    {
        await Receive(Seal, 3);
        await Accepted(new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(1), "bent"));
        var good = new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(1), "bent");
        await Refused("ALREADY_QUARANTINED", good with { RequestId = NewId(), Condition = StockCondition.Quarantine });
        await Refused("SAME_PLACE", good with { RequestId = NewId(), To = "a-01" });
        await Refused("NOT_A_QUARANTINE_PLACE", good with { RequestId = NewId(), To = "A-02" });
        await Refused("UNKNOWN_LOCATION", good with { RequestId = NewId(), To = "Z-99" });
        await Refused("REASON_MISSING", good with { RequestId = NewId(), Reason = "" });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), Reason = Long });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), To = Long });
        await Refused("NOT_ENOUGH", good with { RequestId = NewId(), Quantity = Pieces(3) });
        await Refused("QUANTITY_NOT_POSITIVE", good with { RequestId = NewId(), Quantity = Quantity.Zero });
        await Refused("QUANTITY_NOT_WHOLE", good with { RequestId = NewId(), Quantity = Quantity.FromThousandths(1) });
    }

    [Fact]
    public async Task Bad_releases_from_quarantine_are_refused_with_what_to_do()
    {
        await Receive(Seal, 3);
        await Accepted(new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(2), "bent", "HOLD"));
        var good = new ReleaseFromQuarantine.Command(NewId(), Seal, "HOLD", Pieces(1), StockCondition.New, "straight after all", "A-01");
        await Refused("CONDITION_NOT_GOOD", good with { RequestId = NewId(), Condition = StockCondition.Quarantine });
        await Refused("STILL_IN_QUARANTINE_PLACE", good with { RequestId = NewId(), To = null });
        await Refused("SAME_PLACE", good with { RequestId = NewId(), To = "HOLD" });
        await Refused("STILL_IN_QUARANTINE_PLACE", good with { RequestId = NewId(), From = "A-01", To = "HOLD" });
        await Refused("NOT_ENOUGH", good with { RequestId = NewId(), Quantity = Pieces(3) });
        await Refused("NOT_ENOUGH", good with { RequestId = NewId(), From = "A-02" });
        await Refused("REASON_MISSING", good with { RequestId = NewId(), Reason = "" });
        await Refused("TEXT_TOO_LONG", good with { RequestId = NewId(), Reason = Long });
        await Refused("UNKNOWN_LOCATION", good with { RequestId = NewId(), To = "Z-99" });
    }

    private static ReturnToSupplier.Command Return(params ReturnToSupplier.Line[] lines) => new(NewId(), "RN 7", lines);
}

public sealed class ShelfOnSqlite(SqliteStore store) : ShelfSpecification<SqliteStore>(store);

public sealed class ShelfOnPostgreSql(PostgreSqlStore store) : ShelfSpecification<PostgreSqlStore>(store);

public sealed class ShelfOnSqlServer(SqlServerStore store) : ShelfSpecification<SqlServerStore>(store);
