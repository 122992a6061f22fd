using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

public abstract class LookupSpecification<TStore>(TStore store) : StockSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_part_and_a_bin_say_what_is_there()
    {
        await Receive(Seal, 10);
        await Receive(LotSeal, 4, lot: "L1");
        await Accepted(new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(3)));
        var part = await Ask<OnHandOfPart.Query, OnHandOfPart.Answer>(new(Seal));
        Assert.Equal((Pieces(10), Pieces(10)), (part.OnHand, part.Available));
        Assert.Equal([("A-01", Pieces(7)), ("A-02", Pieces(3))], part.Pieces.Select(pieces => (pieces.Place, pieces.OnHand)));
        var bin = await Ask<OnHandInPlace.Query, Page<PiecesOnHand>>(new("A-01", new PageRequest(100, null)));
        Assert.Equal([(Seal, Pieces(7)), (LotSeal, Pieces(4))], bin.Entries.Select(entry => (entry.Item.Part, entry.Item.OnHand)));
    }

    [Fact]
    public async Task Movements_are_paged_latest_first_without_missing_or_repeating_any()
    {
        for (var pieces = 1; pieces <= 7; pieces++) await Receive(Seal, pieces);
        var seen = new List<long>();
        string? after = null;
        do
        {
            var page = await Ask<FindMovements.Query, Page<FindMovements.Line>>(new(Seal, new PageRequest(3, after), Place: "A-01"));
            seen.AddRange(page.Entries.Select(entry => entry.Item.Quantity.WholeFloor));
            after = page.HasNext ? page.Entries[^1].Place : null;
        }
        while (after is not null);
        Assert.Equal([7, 6, 5, 4, 3, 2, 1], seen);
    }

    [Fact]
    public async Task Stock_as_of_a_past_moment_is_what_it_was_then()
    {
        await Receive(Seal, 10);
        var then = Store.Clock.GetUtcNow();
        Store.Clock.Advance(TimeSpan.FromHours(1));
        await Accepted(new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(4)));
        var before = await Ask<StockAsOf.Query, Page<StockAsOf.Pieces>>(new(then, Seal, null, new PageRequest(10, null)));
        Assert.Equal([("A-01", Pieces(10))], before.Entries.Select(entry => (entry.Item.Place, entry.Item.Quantity)));
        var now = await Ask<StockAsOf.Query, Page<StockAsOf.Pieces>>(new(Store.Clock.GetUtcNow(), Seal, null, new PageRequest(10, null)));
        Assert.Equal([("A-01", Pieces(6)), ("A-02", Pieces(4))], now.Entries.Select(entry => (entry.Item.Place, entry.Item.Quantity)));
    }

    [Fact]
    public async Task Lots_near_their_expiry_come_first_to_expire_first()
    {
        var today = DateOnly.FromDateTime(Store.Clock.GetUtcNow().UtcDateTime);
        foreach (var (lot, days) in ((string, int)[])[("L1", 30), ("L2", -1), ("L3", 400)])
            await Accepted(new ReceiveStock.Command(NewId(), "DN 1", [new(LotSeal, "A-01", Pieces(2), null, lot, null, today.AddDays(days))]));
        var lots = await Ask<LotsNearExpiry.Query, Page<LotsNearExpiry.Lot>>(new(90, new PageRequest(10, null)));
        Assert.Equal([("L2", true, -1), ("L1", false, 30)], lots.Entries.Select(entry => (entry.Item.Code, entry.Item.Expired, entry.Item.DaysLeft)));
    }

    [Fact]
    public async Task Followers_of_the_feed_see_every_transaction_once_in_one_order_while_eight_write()
    {
        const int writers = 8, each = 6;
        var writing = Task.WhenAll(Enumerable.Range(0, writers).Select(_ => Task.Run(async () =>
        {
            for (var act = 0; act < each; act++) await Receive(act % 2 == 0 ? Seal : Oil, 1);
        })));
        var followed = await Task.WhenAll(Enumerable.Range(0, 2).Select(_ => Task.Run(async () =>
        {
            var seen = new List<long>();
            string? after = null;
            for (var idle = 0; seen.Count < writers * each && idle < 500;)
            {
                var answer = await Ask<LedgerFeed.Query, LedgerFeed.Answer>(new(after, 7));
                seen.AddRange(answer.Entries.Select(entry => entry.Transaction));
                after = answer.Cursor;

                // Nothing new may only mean that the writers are slow, or that the other follower is just giving out the next places.
                if (answer.Entries.Count > 0) continue;
                if (writing.IsCompleted) idle++;
                await Task.Delay(20);
            }
            return seen;
        })));
        await writing;
        Assert.Equal(writers * each, followed[0].Count);
        Assert.Equal(followed[0].Count, followed[0].Distinct().Count());
        Assert.Equal(followed[0], followed[1]);
    }

    [Fact]
    public async Task A_question_that_cannot_be_answered_is_refused()
    {
        Assert.Equal("UNKNOWN_PART", (await Refusal<OnHandOfPart.Query, OnHandOfPart.Answer>(new("no such part"))).Code);
        Assert.Equal("UNKNOWN_LOCATION", (await Refusal<OnHandInPlace.Query, Page<PiecesOnHand>>(new("Z-99", new PageRequest(10, null)))).Code);
        Assert.Equal("BAD_PAGE_SIZE", (await Refusal<LedgerFeed.Query, LedgerFeed.Answer>(new(null, 501))).Code);
        Assert.Equal("BAD_CURSOR", (await Refusal<LedgerFeed.Query, LedgerFeed.Answer>(new("rubbish"))).Code);
        Assert.Equal("DAYS_OUT_OF_RANGE", (await Refusal<LotsNearExpiry.Query, Page<LotsNearExpiry.Lot>>(new(-1, new PageRequest(10, null)))).Code);
    }

    private async Task<TAnswer> Ask<TQuery, TAnswer>(TQuery query) where TQuery : IQuery<TAnswer> where TAnswer : notnull
    {
        var outcome = await Store.Dispatcher.Ask<TQuery, TAnswer>(query, CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private async Task<Refusal> Refusal<TQuery, TAnswer>(TQuery query) where TQuery : IQuery<TAnswer> where TAnswer : notnull
    {
        var outcome = await Store.Dispatcher.Ask<TQuery, TAnswer>(query, CancellationToken.None);
        Assert.False(outcome.Succeeded);
        return outcome.Refusal;
    }
}

public sealed class LookupsOnSqlite(SqliteStore store) : LookupSpecification<SqliteStore>(store);

public sealed class LookupsOnPostgreSql(PostgreSqlStore store) : LookupSpecification<PostgreSqlStore>(store);

public sealed class LookupsOnSqlServer(SqlServerStore store) : LookupSpecification<SqlServerStore>(store);
