using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

public abstract class ReceiveAndMoveSpecification<TStore>(TStore store) : StockSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task What_is_received_is_on_hand_and_worth_what_it_cost()
    {
        await Receive(Seal, 10, cost: 2.00m);
        await Receive(Seal, 5, cost: 3.50m);
        Assert.Equal(Pieces(15), await OnHand(Seal, "A-01"));
        var owned = await Store.With(db => db.StockParts.SingleAsync(row => row.Part.Number == Seal));
        Assert.Equal(Each(37.50m), owned.Value);
    }

    [Fact]
    public async Task Every_transaction_balances_in_pieces_and_in_value()
    {
        await Receive(Seal, 3, cost: 0.3333m);
        await Accepted(new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(2)));
        var lines = await Store.With(db => db.StockLines.ToListAsync());
        Assert.Equal(4, lines.Count);
        Assert.All(lines.GroupBy(line => line.TransactionId), transaction =>
        {
            Assert.Equal(0, transaction.Sum(line => line.Quantity.Thousandths));
            Assert.Equal(0, transaction.Sum(line => line.Value.TenThousandths));
        });
    }

    [Fact]
    public async Task A_move_takes_from_one_place_and_brings_to_the_other()
    {
        await Receive(Seal, 10);
        await Accepted(new MoveStock.Command(NewId(), "104477", "a-01", "A-02", Pieces(4)));
        Assert.Equal(Pieces(6), await OnHand(Seal, "A-01"));
        Assert.Equal(Pieces(4), await OnHand(Seal, "A-02"));
    }

    [Fact]
    public async Task The_same_request_id_again_gets_the_first_answer_and_changes_nothing()
    {
        var act = new ReceiveStock.Command(NewId(), "DN 7", [new(Seal, "A-01", Pieces(10))]);
        var first = await Accepted(act);
        var second = await Accepted(act);
        Assert.Equal(first, second);
        Assert.Equal(Pieces(10), await OnHand(Seal, "A-01"));
    }

    [Fact]
    public async Task A_request_id_used_for_something_else_is_refused()
    {
        var act = new ReceiveStock.Command(NewId(), "DN 7", [new(Seal, "A-01", Pieces(10))]);
        await Accepted(act);
        await Refused("REQUEST_ID_REUSED", act with { Document = "DN 8" });
    }

    [Fact]
    public async Task The_same_request_from_many_at_once_is_carried_out_once()
    {
        var act = new ReceiveStock.Command(NewId(), "DN 7", [new(Seal, "A-01", Pieces(10))]);
        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Accepted(act)));
        Assert.Single(answers.Distinct());
        Assert.Equal(Pieces(10), await OnHand(Seal, "A-01"));
    }

    [Fact]
    public async Task Bad_receipts_are_refused_with_what_to_do()
    {
        await Refused("UNKNOWN_PART", Receipt(Line("no such part", "A-01", Pieces(1))));
        await Refused("UNKNOWN_LOCATION", Receipt(Line(Seal, "Z-99", Pieces(1))));
        await Refused("QUANTITY_NOT_POSITIVE", Receipt(Line(Seal, "A-01", Pieces(0))));
        await Refused("QUANTITY_NOT_POSITIVE", Receipt(Line(Seal, "A-01", Pieces(-1))));
        await Refused("QUANTITY_NOT_WHOLE", Receipt(Line(Seal, "A-01", Quantity.FromThousandths(500))));
        await Refused("QUANTITY_TOO_LARGE", Receipt(Line(Seal, "A-01", Quantity.FromThousandths(long.MaxValue))));
        await Refused("LOT_MISSING", Receipt(Line(LotSeal, "A-01", Pieces(1))));
        await Refused("SERIAL_IS_ONE", Receipt(Line(Housing, "A-01", Pieces(2), lot: "S 1")));
        await Refused("COST_OUT_OF_RANGE", Receipt(Line(Seal, "A-01", Pieces(1), Each(-1))));
        await Refused("DATES_REVERSED", Receipt(Line(LotSeal, "A-01", Pieces(1), lot: "L1", curedOn: new(2031, 1, 2), expiresOn: new(2031, 1, 1))));
        await Refused("DATE_IN_FUTURE", Receipt(Line(LotSeal, "A-01", Pieces(1), lot: "L1", curedOn: new(2031, 3, 13))));
        await Refused("TEXT_TOO_LONG", Receipt(Line(Seal, "A-01", Pieces(1))) with { Note = new string('x', 10_000) });
        await Refused("NOTHING_TO_DO", Receipt());
        await Refused("REQUEST_ID_MISSING", Receipt(Line(Seal, "A-01", Pieces(1))) with { RequestId = " " });
    }

    [Fact]
    public async Task Bad_moves_are_refused_with_what_to_do()
    {
        await Receive(Seal, 3);
        await Receive(LotSeal, 3, lot: "L1");
        await Refused("SAME_PLACE", new MoveStock.Command(NewId(), Seal, "A-01", "a-01", Pieces(1)));
        await Refused("NOT_ENOUGH", new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(4)));
        await Refused("NOT_ENOUGH", new MoveStock.Command(NewId(), Seal, "A-02", "A-01", Pieces(1)));
        await Refused("UNKNOWN_LOT", new MoveStock.Command(NewId(), LotSeal, "A-01", "A-02", Pieces(1), "L9"));
        await Refused("LOT_OF_ANOTHER_PART", new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(1), "L1"));
    }

    private static ReceiveStock.Line Line(string part, string place, Quantity quantity, Money? cost = null, string? lot = null, DateOnly? curedOn = null,
        DateOnly? expiresOn = null) => new(part, place, quantity, cost, lot, curedOn, expiresOn);

    private static ReceiveStock.Command Receipt(params ReceiveStock.Line[] lines) => new(NewId(), "DN 1", lines);
}

public sealed class ReceiveAndMoveOnSqlite(SqliteStore store) : ReceiveAndMoveSpecification<SqliteStore>(store);

public sealed class ReceiveAndMoveOnPostgreSql(PostgreSqlStore store) : ReceiveAndMoveSpecification<PostgreSqlStore>(store);

public sealed class ReceiveAndMoveOnSqlServer(SqlServerStore store) : ReceiveAndMoveSpecification<SqlServerStore>(store);
