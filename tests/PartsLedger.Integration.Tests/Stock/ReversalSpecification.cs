using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>Mistakes taken back.</summary>
public abstract class ReversalSpecification<TStore>(TStore store) : JobSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_reversal_has_every_line_the_other_way_round_and_names_what_it_reverses()
    {
        var wrong = await Accepted(new ReceiveStock.Command(NewId(), "DN 7",
            [new(Seal, "A-01", Pieces(10), Each(2)), new(LotSeal, "A-02", Pieces(3), Each(4), "L1")]));
        var posted = await Reverse(wrong.Transaction);
        Assert.Equal("reverse", posted.Act);
        var reversal = await Store.With(db => db.StockTransactions.Include(row => row.Lines).SingleAsync(row => row.Id == posted.Transaction));
        Assert.Equal((wrong.Transaction, "booked twice", "receipt", "DN 7"),
            (reversal.ReversesId, reversal.Why, reversal.BelongsTo, reversal.BelongsToRef));
        Assert.Equal(await Lines(wrong.Transaction, -1), await Lines(posted.Transaction, 1));
        Assert.All(await Store.With(db => db.StockParts.ToListAsync()), part => Assert.Equal((Quantity.Zero, Money.Zero), (part.OnHand, part.Value)));
    }

    [Fact]
    public async Task Scrapped_pieces_come_back_worth_what_they_left_with()
    {
        await Receive(Seal, 10, cost: 2.00m);
        var scrap = await Accepted(new ScrapStock.Command(NewId(), Seal, "A-01", Pieces(4), "bent"));
        await Receive(Seal, 6, cost: 5.00m);
        await Reverse(scrap.Transaction);
        Assert.Equal((Pieces(16), Each(50)), await Owned(Seal));
    }

    [Fact]
    public async Task A_reversed_receipt_takes_its_own_layer_first_in_first_out()
    {
        await Fifo();
        await Receive(Seal, 10, cost: 2.00m);
        var second = await Accepted(new ReceiveStock.Command(NewId(), "DN 2", [new(Seal, "A-01", Pieces(10), Each(3))]));
        await Receive(Seal, 10, cost: 4.00m);
        await Reverse(second.Transaction);
        Assert.Equal((Pieces(20), Each(60)), await Owned(Seal));
        await Accepted(new ScrapStock.Command(NewId(), Seal, "A-01", Pieces(12), "bent"));
        Assert.Equal((Pieces(8), Each(32)), await Owned(Seal));
    }

    [Fact]
    public async Task Moves_quarantines_splits_and_merges_are_taken_back()
    {
        await ReceiveLot(10, "L1", 30);
        await ReceiveLot(10, "L2", 60, "A-02");
        var before = await Balances();
        await TakenBack(new MoveStock.Command(NewId(), LotSeal, "A-01", "A-02", Pieces(4), "L1"));
        await TakenBack(new QuarantineStock.Command(NewId(), LotSeal, "A-01", Pieces(4), "bent", "HOLD", "L1"));
        await TakenBack(new SplitLot.Command(NewId(), LotSeal, "L1", "A-01", Pieces(4), "L1-B"));
        await TakenBack(new MergeLots.Command(NewId(), LotSeal, ["L1"], "L2"));

        async Task TakenBack<TAct>(TAct act) where TAct : IAct<StockPosted>
        {
            var posted = await Accepted(act);
            Assert.NotEqual(before, await Balances());
            var reversal = await Reverse(posted.Transaction);
            Assert.Equal(before, await Balances());
            Assert.Equal(await Lines(posted.Transaction, -1), await Lines(reversal.Transaction, 1));
        }
    }

    [Fact]
    public async Task A_count_that_found_some_and_missed_others_is_taken_back()
    {
        await Receive(LotSeal, 5, cost: 1.00m, lot: "L1");
        await Receive(LotSeal, 5, cost: 1.00m, lot: "L2");
        var before = await Balances();
        var count = await Done<CountStock.Command, CountStock.Answer>(new(NewId(), "A-01", [new(LotSeal, Pieces(2), "L1"), new(LotSeal, Pieces(8), "L2")]));
        await Reverse(count.Transaction!.Value);
        Assert.Equal(before, await Balances());
        Assert.Equal((Pieces(10), Each(10)), await Owned(LotSeal));
    }

    [Fact]
    public async Task A_reversed_pull_brings_the_pieces_back_and_leaves_the_reservation_closed()
    {
        await Receive(Seal, 5);
        await Reserve("J-7", Seal, 3);
        var pulled = await Pull("J-7", Seal, 3);
        await Reverse(pulled.Transaction);
        Assert.Equal((Pieces(5), Quantity.Zero, Pieces(5)), (await OnHand(Seal, "A-01"), await ReservedOf(Seal), await Available(Seal)));
        await Refused("RETURN_TOO_MANY", new ReturnFromJob.Command(NewId(), "J-7", Seal, Pieces(1), "A-01"));
    }

    [Fact]
    public async Task Pieces_that_a_job_gave_back_do_not_come_back_twice()
    {
        await Receive(Seal, 5);
        var pulled = await Pull("J-7", Seal, 3);
        var back = await Accepted(new ReturnFromJob.Command(NewId(), "j-7", Seal, Pieces(2), "A-01"));
        Assert.Contains("Job J-7", (await Refused("NOT_ENOUGH", Reversal(pulled.Transaction))).Sentence, StringComparison.Ordinal);
        await Reverse(back.Transaction);
        await Reverse(pulled.Transaction);
        Assert.Equal(Pieces(5), await OnHand(Seal, "A-01"));
    }

    [Fact]
    public async Task What_has_gone_on_or_is_reserved_cannot_be_taken_back()
    {
        var wrong = await Accepted(new ReceiveStock.Command(NewId(), "DN 7", [new(Seal, "A-01", Pieces(10))]));
        await Accepted(new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(1)));
        await Refused("NOT_ENOUGH", Reversal(wrong.Transaction));
        await Accepted(new MoveStock.Command(NewId(), Seal, "A-02", "A-01", Pieces(1)));
        await Reserve("J-7", Seal, 1);
        Assert.Contains("1 for job J-7", (await Refused("NOT_ENOUGH_FREE", Reversal(wrong.Transaction))).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_serial_number_does_not_come_back_twice()
    {
        await Receive(Housing, 1, lot: "S 1");
        var scrap = await Accepted(new ScrapStock.Command(NewId(), Housing, "A-01", Pieces(1), "cracked", "S 1"));
        await Receive(Housing, 1, "A-02", lot: "S 1");
        await Refused("SERIAL_ELSEWHERE", Reversal(scrap.Transaction));
    }

    [Fact]
    public async Task Bad_reversals_are_refused_with_what_to_do()
    {
        var wrong = await Accepted(new ReceiveStock.Command(NewId(), "DN 7", [new(Seal, "A-01", Pieces(10))]));
        await Refused("UNKNOWN_TRANSACTION", Reversal(wrong.Transaction + 1));
        await Refused("UNKNOWN_TRANSACTION", Reversal(-1));
        await Refused("REASON_MISSING", Reversal(wrong.Transaction) with { Reason = "" });
        await Refused("TEXT_TOO_LONG", Reversal(wrong.Transaction) with { Reason = new string('x', 10_000) });
        var reversal = await Reverse(wrong.Transaction);
        await Refused("REVERSAL_OF_REVERSAL", Reversal(reversal.Transaction));
        Assert.Contains($"{reversal.Transaction}", (await Refused("ALREADY_REVERSED", Reversal(wrong.Transaction))).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Of_many_reversals_at_once_exactly_one_is_carried_out()
    {
        var wrong = await Accepted(new ReceiveStock.Command(NewId(), "DN 7", [new(Seal, "A-01", Pieces(10))]));
        await Receive(Seal, 100);
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Send(Reversal(wrong.Transaction))));
        Assert.Single(outcomes, outcome => outcome.Succeeded);
        Assert.All(outcomes.Where(outcome => !outcome.Succeeded), outcome => Assert.Equal("ALREADY_REVERSED", outcome.Refusal!.Code));
        Assert.Equal(Pieces(100), await OnHand(Seal, "A-01"));
    }

    private static ReverseTransaction.Command Reversal(long transaction) => new(NewId(), transaction, "booked twice");

    private Task<StockPosted> Reverse(long transaction) => Done<ReverseTransaction.Command, StockPosted>(Reversal(transaction));

    private Task Fifo() => Done<SetShopChoice.Command, SetShopChoice.Answer>(new(NewId(), "costing", "fifo"), Supervisor);

    private Task<(Quantity, Money)> Owned(string part) => Store.With(async db =>
    {
        var row = await db.StockParts.SingleAsync(row => row.Part.Number == part);
        return (row.OnHand, row.Value);
    });

    private Task<string[]> Balances() => Store.With(async db =>
        (await db.StockBalances.Where(row => row.OnHand != Quantity.Zero)
            .Select(row => new { row.Location.Code, Lot = row.Lot!.Code, row.Condition, row.OnHand }).ToListAsync())
        .Select(row => $"{row.Code} {row.Lot} {row.Condition} {row.OnHand}").Order(StringComparer.Ordinal).ToArray());

    private Task<string[]> Lines(long transaction, int sign) => Store.With(async db =>
        (await db.StockLines.Where(row => row.TransactionId == transaction).ToListAsync())
        .Select(row => $"{row.PartId} {row.LocationId} {row.Outside} {row.LotId} {row.Condition} {sign * row.Quantity.Thousandths} {sign * row.Value.TenThousandths}")
        .Order(StringComparer.Ordinal).ToArray());
}

public sealed class ReversalOnSqlite(SqliteStore store) : ReversalSpecification<SqliteStore>(store);

public sealed class ReversalOnPostgreSql(PostgreSqlStore store) : ReversalSpecification<PostgreSqlStore>(store);

public sealed class ReversalOnSqlServer(SqlServerStore store) : ReversalSpecification<SqlServerStore>(store);
