using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

public abstract class PullAndReturnSpecification<TStore>(TStore store) : JobSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_pull_uses_the_jobs_reservation_first_and_then_free_pieces()
    {
        await Receive(Seal, 10);
        await Reserve("J-1", Seal, 4);
        await Reserve("J-2", Seal, 3);
        var answer = await Pull("j-1", Seal, 6);
        Assert.Equal([$"{Seal} A-01  New 6"], Told(answer.Pulled));
        Assert.Equal(Pieces(4), answer.OfReserved);
        Assert.Equal((Pieces(4), Pieces(3), Pieces(1)), (await OnHand(Seal, "A-01"), await ReservedOf(Seal), await Available(Seal)));
        var (transaction, line) = await Store.With(async db => (await db.StockTransactions.SingleAsync(row => row.Act == "pull"),
            await db.StockLines.SingleAsync(row => row.Outside == OutsideWorld.Job)));
        Assert.Equal(("job", "J-1", answer.Transaction), (transaction.BelongsTo, transaction.BelongsToRef, transaction.Id));
        Assert.Equal((Pieces(6), transaction.Id), (line.Quantity, line.TransactionId));
    }

    [Fact]
    public async Task A_pull_of_free_pieces_leaves_the_jobs_reservation_alone()
    {
        await Receive(Seal, 10);
        await Reserve("J-1", Seal, 4);
        var answer = await Pull("J-1", Seal, 6, PullFrom.Free);
        Assert.Equal(Quantity.Zero, answer.OfReserved);
        Assert.Equal((Pieces(4), Pieces(4)), (await OnHand(Seal, "A-01"), await ReservedOf(Seal)));
        var refusal = await Refused("NOT_ENOUGH_FREE", new(NewId(), "J-1", Seal, Pieces(1), PullFrom.Free));
        Assert.Contains("4 for job J-1", refusal.Sentence, StringComparison.Ordinal);
        await Pull("J-1", Seal, 4, PullFrom.Reserved);
        Assert.Equal((Quantity.Zero, Quantity.Zero), (await OnHand(Seal, "A-01"), await ReservedOf(Seal)));
    }

    [Fact]
    public async Task A_pull_without_a_place_takes_what_expires_first()
    {
        await ReceiveLot(2, "OLD", -1);
        await ReceiveLot(2, "LATER", 90);
        await ReceiveLot(2, "SOON", 5, "A-02");
        await ReceiveLot(2, "SOON-USED", 5, condition: StockCondition.Used);
        var answer = await Pull("J-1", LotSeal, 5);
        Assert.Equal([$"{LotSeal} A-02 SOON New 2", $"{LotSeal} A-01 SOON-USED Used 2", $"{LotSeal} A-01 LATER New 1"], Told(answer.Pulled));
    }

    [Fact]
    public async Task A_pull_from_a_place_lot_or_condition_takes_nothing_else()
    {
        await ReceiveLot(2, "SOON", 5);
        await ReceiveLot(2, "LATER", 90);
        await ReceiveLot(2, "SOON", 5, "A-02", StockCondition.Rebuilt);
        Assert.Equal([$"{LotSeal} A-01 LATER New 1"], Told((await Sent(new(NewId(), "J-1", LotSeal, Pieces(1), Lot: "later"))).Pulled));
        Assert.Equal([$"{LotSeal} A-02 SOON Rebuilt 1"], Told((await Sent(new(NewId(), "J-1", LotSeal, Pieces(1), Place: "a-02"))).Pulled));
        Assert.Equal([$"{LotSeal} A-02 SOON Rebuilt 1"],
            Told((await Sent(new(NewId(), "J-1", LotSeal, Pieces(1), Condition: StockCondition.Rebuilt))).Pulled));
        await Refused("NOT_ENOUGH", new(NewId(), "J-1", LotSeal, Pieces(1), Place: "A-02"));
        await Refused("NOT_ENOUGH", new(NewId(), "J-1", LotSeal, Pieces(2), Lot: "LATER"));
    }

    [Fact]
    public async Task What_others_have_reserved_is_refused_with_who_and_until_when()
    {
        await Receive(Seal, 5);
        var until = Store.Clock.GetUtcNow().AddDays(2);
        await Reserve("J-7", Seal, 3, until, Bench);
        await Reserve("J-8", Seal, 1);
        var refusal = await Refused("NOT_ENOUGH_FREE", new(NewId(), "J-8", Seal, Pieces(3)));
        Assert.Equal(FormattableString.Invariant($"Only 2 of {Seal} are free; 3 were asked for. Reserved: 3 for job J-7 by bench until {until.UtcDateTime:yyyy-MM-dd HH:mm} UTC."), refusal.Sentence);
        Store.Clock.Advance(TimeSpan.FromDays(2));
        await Pull("J-8", Seal, 5);
    }

    [Fact]
    public async Task Expired_and_quarantined_pieces_are_not_pulled()
    {
        await ReceiveLot(2, "OLD", -1);
        await ReceiveLot(1, "GOOD", 5);
        await Receive(Seal, 2, "HOLD");
        await Accepted(new ReceiveStock.Command(NewId(), "DN 1", [new(Seal, "A-01", Pieces(3), Condition: StockCondition.Quarantine)]));
        var expired = await Refused("LOT_EXPIRED", new(NewId(), "J-1", LotSeal, Pieces(2)));
        Assert.Contains("lot OLD", expired.Sentence, StringComparison.Ordinal);
        await Refused("LOT_EXPIRED", new(NewId(), "J-1", LotSeal, Pieces(1), Lot: "OLD"));
        await Refused("NOT_ENOUGH", new(NewId(), "J-1", LotSeal, Pieces(4)));
        await Refused("QUARANTINED", new(NewId(), "J-1", Seal, Pieces(1)));
        await Refused("QUARANTINED", new(NewId(), "J-1", Seal, Pieces(2), Place: "HOLD"));
        await Refused("QUARANTINED", new(NewId(), "J-1", Seal, Pieces(3), Condition: StockCondition.Quarantine));
        await Refused("NOT_ENOUGH", new(NewId(), "J-1", Seal, Pieces(6)));
    }

    [Fact]
    public async Task A_reserved_lot_that_has_expired_since_is_not_pulled()
    {
        await ReceiveLot(2, "SHORT", 1);
        await Reserve("J-1", LotSeal, 2);
        Store.Clock.Advance(TimeSpan.FromDays(2));
        await Refused("LOT_EXPIRED", new(NewId(), "J-1", LotSeal, Pieces(1), PullFrom.Reserved));
        await Refused("LOT_EXPIRED", new(NewId(), "J-1", LotSeal, Pieces(1)));
    }

    [Fact]
    public async Task Bad_pulls_are_refused_with_what_to_do()
    {
        await Receive(Seal, 5);
        await Receive(LotSeal, 5, lot: "L1");
        await Reserve("J-1", Seal, 2);
        await Refused("NO_RESERVATION", new(NewId(), "J-2", Seal, Pieces(1), PullFrom.Reserved));
        await Refused("NOT_ENOUGH_RESERVED", new(NewId(), "J-1", Seal, Pieces(3), PullFrom.Reserved));
        await Refused("UNKNOWN_PART", new(NewId(), "J-1", "no such part", Pieces(1)));
        await Refused("UNKNOWN_LOCATION", new(NewId(), "J-1", Seal, Pieces(1), Place: "Z-99"));
        await Refused("UNKNOWN_LOT", new(NewId(), "J-1", LotSeal, Pieces(1), Lot: "L9"));
        await Refused("LOT_OF_ANOTHER_PART", new(NewId(), "J-1", Seal, Pieces(1), Lot: "L1"));
        await Refused("QUANTITY_NOT_POSITIVE", new(NewId(), "J-1", Seal, Pieces(0)));
        await Refused("QUANTITY_NOT_WHOLE", new(NewId(), "J-1", Seal, Quantity.FromThousandths(1500)));
        await Refused("QUANTITY_TOO_LARGE", new(NewId(), "J-1", Seal, Quantity.FromThousandths(long.MaxValue)));
        await Refused("NAME_MISSING", new(NewId(), "", Seal, Pieces(1)));
        await Refused("TEXT_TOO_LONG", new(NewId(), "J-1", Seal, Pieces(1), Note: new string('x', 10_000)));
    }

    [Fact]
    public async Task Eight_callers_pull_twenty_parts_to_exactly_nothing()
    {
        const int Parts = 20, Each = 8, Callers = 8;
        await Store.With(async db =>
        {
            db.AddRange(Enumerable.Range(0, Parts).Select(at => new PartRow
            {
                Number = $"30-{at:00}", NumberKey = $"30{at:00}", Name = "Ring", Kind = PartKind.Seal, Unit = "pc", Supplied = true,
            }));
            await db.SaveChangesAsync();
        });
        await Accepted(new ReceiveStock.Command(NewId(), "DN 1",
            [.. Enumerable.Range(0, Parts).Select(at => new ReceiveStock.Line($"30-{at:00}", "A-01", Pieces(Each), StockSpecification<TStore>.Each(1)))]));

        // Each caller tries half as much again as its share, each from another part on.
        var outcomes = (await Task.WhenAll(Enumerable.Range(0, Callers).Select(async caller =>
        {
            var own = new List<Outcome<PullStock.Answer>>();
            for (var step = 0; step < Parts * 3 / 2; step++)
                own.Add(await Store.Dispatcher.Send<PullStock.Command, PullStock.Answer>(
                    new(NewId(), $"J-{caller}", $"30-{((caller * 5) + step) % Parts:00}", Pieces(1)), Counter, CancellationToken.None));
            return own;
        }))).SelectMany(own => own).ToList();

        Assert.Equal(Parts * Each, outcomes.Count(outcome => outcome.Succeeded));
        Assert.All(outcomes.Where(outcome => !outcome.Succeeded), outcome => Assert.Equal("NOT_ENOUGH", outcome.Refusal!.Code));
        Assert.All(await Store.With(db => db.StockBalances.Select(row => row.OnHand).ToListAsync()), onHand => Assert.Equal(Quantity.Zero, onHand));
        Assert.All(await Store.With(db => db.StockParts.Select(row => row.Value).ToListAsync()), value => Assert.Equal(Money.Zero, value));
    }

    [Fact]
    public async Task Reserved_pieces_are_pulled_once_by_eight_at_a_time()
    {
        await Receive(Seal, 6);
        await Reserve("J-1", Seal, 3);
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Store.Dispatcher.Send<PullStock.Command, PullStock.Answer>(
            new(NewId(), "J-1", Seal, Pieces(1), PullFrom.Reserved), Counter, CancellationToken.None)));
        Assert.Equal(3, outcomes.Count(outcome => outcome.Succeeded));
        Assert.All(outcomes.Where(outcome => !outcome.Succeeded), outcome => Assert.Equal("NO_RESERVATION", outcome.Refusal!.Code));
        Assert.Equal((Pieces(3), Quantity.Zero), (await OnHand(Seal, "A-01"), await ReservedOf(Seal)));
    }

    [Fact]
    public async Task What_comes_back_is_worth_what_it_left_with_to_the_last_ten_thousandth()
    {
        await Receive(Seal, 3, cost: 1.3333m);
        await Pull("J-1", Seal, 3);
        await Receive(Seal, 1, cost: 9m);
        await Return(new(NewId(), "j-1", Seal, Pieces(1), "A-02"));
        Assert.Equal(Each(9m + 1.3333m), await Owned());
        await Return(new(NewId(), "J-1", Seal, Pieces(2), "A-02", StockCondition.Used));
        Assert.Equal(Each(9m + 3.9999m), await Owned());
        Assert.Equal((Pieces(1), Pieces(3)), (await OnHand(Seal, "A-01"), await OnHand(Seal, "A-02")));
        Assert.Equal(Money.Zero, await Store.With(async db => Money.FromTenThousandths((await db.StockLines
            .Where(row => row.Outside == OutsideWorld.Job).Select(row => row.Value).ToListAsync()).Sum(value => value.TenThousandths))));

        Task<Money> Owned() => Store.With(db => db.StockParts.Where(row => row.Part.Number == Seal).Select(row => row.Value).SingleAsync());
    }

    [Fact]
    public async Task What_comes_back_into_quarantine_is_on_hand_and_not_available()
    {
        await Receive(Seal, 3);
        await Pull("J-1", Seal, 3);
        await Return(new(NewId(), "J-1", Seal, Pieces(1), "A-01", StockCondition.Quarantine));
        await Return(new(NewId(), "J-1", Seal, Pieces(1), "HOLD"));
        await Return(new(NewId(), "J-1", Seal, Pieces(1), "A-01", StockCondition.Rebuilt));
        Assert.Equal((Pieces(2), Pieces(1), Pieces(1)), (await OnHand(Seal, "A-01"), await OnHand(Seal, "HOLD"), await Available(Seal)));
    }

    [Fact]
    public async Task No_more_comes_back_than_the_job_pulled_of_the_part_and_lot()
    {
        await Receive(LotSeal, 5, lot: "L1");
        await Receive(LotSeal, 5, lot: "L2");
        await Receive(Seal, 5);
        await Pull("J-1", LotSeal, 7);
        await Pull("J-2", Seal, 2);
        var refusal = await Refused("RETURN_TOO_MANY", Back("J-1", LotSeal, 3, "L2"));
        Assert.Contains("5 of lot L1, 2 of lot L2", refusal.Sentence, StringComparison.Ordinal);
        await Refused("RETURN_TOO_MANY", Back("J-1", Seal, 1));
        await Return(Back("J-1", LotSeal, 2, "L2"));
        await Refused("RETURN_TOO_MANY", Back("J-1", LotSeal, 1, "L2"));
        await Return(Back("J-1", LotSeal, 5, "L1"));
        var none = await Refused("RETURN_TOO_MANY", Back("J-1", LotSeal, 1, "L1"));
        Assert.Contains("none that are not back", none.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_same_pieces_come_back_once_when_eight_bring_them()
    {
        await Receive(Seal, 3);
        await Pull("J-1", Seal, 3);
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Send(Back("J-1", Seal, 1))));
        Assert.Equal(3, outcomes.Count(outcome => outcome.Succeeded));
        Assert.Equal(Pieces(3), await OnHand(Seal, "A-01"));
    }

    [Fact]
    public async Task Bad_returns_are_refused_with_what_to_do()
    {
        await Receive(Seal, 5);
        await Receive(LotSeal, 5, lot: "L1");
        await Pull("J-1", Seal, 5);
        await Pull("J-1", LotSeal, 5);
        await Refused("LOT_MISSING", Back("J-1", LotSeal, 1));
        await Refused("UNKNOWN_LOT", Back("J-1", LotSeal, 1, "L9"));
        await Refused("LOT_OF_ANOTHER_PART", Back("J-1", Seal, 1, "L1"));
        await Refused("UNKNOWN_PART", Back("J-1", "no such part", 1));
        await Refused("UNKNOWN_LOCATION", Back("J-1", Seal, 1) with { To = "Z-99" });
        await Refused("QUANTITY_NOT_POSITIVE", Back("J-1", Seal, 0));
        await Refused("QUANTITY_NOT_WHOLE", Back("J-1", Seal, 1) with { Quantity = Quantity.FromThousandths(1) });
        await Refused("QUANTITY_TOO_LARGE", Back("J-1", Seal, 1) with { Quantity = Quantity.FromThousandths(long.MaxValue) });
        await Refused("NAME_MISSING", Back(" ", Seal, 1));
        await Refused("TEXT_TOO_LONG", Back("J-1", Seal, 1) with { Note = new string('x', 10_000) });
    }

    private static ReturnFromJob.Command Back(string job, string part, long pieces, string? lot = null) =>
        new(NewId(), job, part, Pieces(pieces), "A-01", Lot: lot);

    private Task<PullStock.Answer> Sent(PullStock.Command act) => Done<PullStock.Command, PullStock.Answer>(act);

    private Task<StockPosted> Return(ReturnFromJob.Command act) => Done<ReturnFromJob.Command, StockPosted>(act);

    private Task<Refusal> Refused(string code, PullStock.Command act) => RefusedAs<PullStock.Command, PullStock.Answer>(code, act);
}

public sealed class PullAndReturnOnSqlite(SqliteStore store) : PullAndReturnSpecification<SqliteStore>(store);

public sealed class PullAndReturnOnPostgreSql(PostgreSqlStore store) : PullAndReturnSpecification<PostgreSqlStore>(store);

public sealed class PullAndReturnOnSqlServer(SqlServerStore store) : PullAndReturnSpecification<SqlServerStore>(store);
