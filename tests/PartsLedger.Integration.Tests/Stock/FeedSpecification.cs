using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>Following the ledger: everything once, in one order for all.</summary>
public abstract class FeedSpecification<TStore>(TStore store) : StockSpecification<TStore>(store) where TStore : Store
{
    private const int Writers = 8, ActsEach = 25;

    [Fact]
    public async Task An_empty_ledger_gives_a_cursor_to_begin_with()
    {
        var nothing = await Read();
        Assert.Empty(nothing.Entries);
        Assert.False(nothing.More);
        await Receive(Seal, 1);
        Assert.Single((await Read(nothing.Cursor)).Entries);
    }

    [Fact]
    public async Task An_entry_says_who_did_what_when_and_every_line_of_it()
    {
        await Accepted(new ReceiveStock.Command("feed-1", "DN 9", [new(LotSeal, "A-01", Pieces(3), Each(1.50m), "L1")], "first"));
        var entry = Assert.Single((await Read()).Entries);
        Assert.Equal(("receive", "counter", "first", "receipt", "DN 9", null, "feed-1", Store.Clock.GetUtcNow()),
            (entry.Act, entry.Who, entry.Why, entry.BelongsTo, entry.Reference, entry.Reverses, entry.RequestId, entry.At));
        Assert.Equal(
        [
            new LedgerFeed.Line(LotSeal, null, OutsideWorld.Supplier, "L1", StockCondition.New, Pieces(-3), Each(1.50m), Each(-4.50m)),
            new LedgerFeed.Line(LotSeal, "A-01", null, "L1", StockCondition.New, Pieces(3), Each(1.50m), Each(4.50m)),
        ], entry.Lines.OrderBy(line => line.Quantity));
    }

    [Fact]
    public async Task Pages_follow_one_another_and_the_last_cursor_goes_on_with_what_comes_later()
    {
        for (var at = 0; at < 7; at++) await Receive(Seal, 1);
        var first = await Read(null, 3);
        var second = await Read(first.Cursor, 3);
        var third = await Read(second.Cursor, 3);
        Assert.Equal((true, true, false), (first.More, second.More, third.More));
        Assert.Equal(first.Entries[^1].Cursor, first.Cursor);
        var all = (await Read()).Entries.Select(entry => entry.Transaction).ToList();
        Assert.Equal(all, first.Entries.Concat(second.Entries).Concat(third.Entries).Select(entry => entry.Transaction));
        Assert.Equal(7, all.Distinct().Count());

        Assert.Empty((await Read(third.Cursor)).Entries);
        await Receive(Oil, 1);
        Assert.DoesNotContain(Assert.Single((await Read(third.Cursor)).Entries).Transaction, all);
    }

    [Fact]
    public async Task A_transaction_that_is_committed_late_comes_after_those_already_read_though_its_number_is_lower()
    {
        await Receive(Seal, 1);
        await Receive(Oil, 1);

        // As if the first were not committed yet: nobody sees that it waits for its place.
        var late = await Store.With(db => db.StockUnfed.MinAsync(row => row.TransactionId));
        await Store.With(db => db.StockUnfed.Where(row => row.TransactionId == late).ExecuteDeleteAsync());
        var before = await Read();
        Assert.True(Assert.Single(before.Entries).Transaction > late);
        await Store.With(async db =>
        {
            db.Add(new StockUnfedRow { TransactionId = late });
            await db.SaveChangesAsync();
        });
        Assert.Equal(late, Assert.Single((await Read(before.Cursor)).Entries).Transaction);
    }

    [Fact]
    public async Task Two_followers_of_eight_writers_get_everything_once_in_the_same_order()
    {
        using var writing = new CancellationTokenSource();
        var written = new ConcurrentBag<long>();
        var followers = Enumerable.Range(0, 2).Select(number => Task.Run(() => Follow(number == 0 ? 3 : 50, writing.Token))).ToList();
        await Task.WhenAll(Enumerable.Range(0, Writers).Select(writer => Task.Run(async () =>
        {
            string[] parts = [Seal, Oil, LotSeal, Housing];
            for (var act = 0; act < ActsEach; act++)
            {
                var part = parts[(writer + act) % parts.Length];
                var lot = part == LotSeal ? "L1" : part == Housing ? $"S-{writer}-{act}" : null;
                written.Add((await Accepted(new ReceiveStock.Command(NewId(), "DN 1", [new(part, "A-01", Pieces(1), null, lot)]))).Transaction);
            }
        })));
        await writing.CancelAsync();
        var seen = await Task.WhenAll(followers);
        Assert.Equal(seen[0], seen[1]);
        Assert.Equal(Writers * ActsEach, seen[0].Count);
        Assert.Equal(written.Order(), seen[0].Order());
    }

    [Theory]
    [InlineData("")]
    [InlineData("no cursor")]
    [InlineData("MTI")]
    [InlineData("ZmVlZDotMQ")]
    [InlineData("cGFydHM6MTI")]
    public async Task A_cursor_that_is_none_of_the_feed_is_refused(string cursor) => await Refused("BAD_CURSOR", new(cursor));

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(501)]
    public async Task A_page_size_out_of_range_is_refused(int first) => await Refused("BAD_PAGE_SIZE", new(null, first));

    [Fact]
    public async Task A_cursor_beyond_the_end_means_that_the_database_was_put_back_and_is_refused()
    {
        await Receive(Seal, 1);
        await Receive(Seal, 1);
        var cursor = (await Read()).Cursor;
        await Damage.Do(Store, "delete from stock_feed where position = 2");
        await Refused("CURSOR_AHEAD", new(cursor));
    }

    private async Task<List<long>> Follow(int pageSize, CancellationToken writing)
    {
        var seen = new List<long>();
        string? cursor = null;
        while (true)
        {
            // Asked before reading: what was committed by then is read below.
            var over = writing.IsCancellationRequested;
            var page = await Read(cursor, pageSize);
            seen.AddRange(page.Entries.Select(entry => entry.Transaction));
            cursor = page.Cursor;
            if (over && !page.More) return seen;
        }
    }

    private async Task<LedgerFeed.Answer> Read(string? after = null, int first = 100)
    {
        var outcome = await Store.Dispatcher.Ask<LedgerFeed.Query, LedgerFeed.Answer>(new(after, first), CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private async Task Refused(string code, LedgerFeed.Query query)
    {
        var outcome = await Store.Dispatcher.Ask<LedgerFeed.Query, LedgerFeed.Answer>(query, CancellationToken.None);
        Assert.Equal(code, outcome.Refusal?.Code);
    }
}

public sealed class FeedOnSqlite(SqliteStore store) : FeedSpecification<SqliteStore>(store);

public sealed class FeedOnPostgreSql(PostgreSqlStore store) : FeedSpecification<PostgreSqlStore>(store);

public sealed class FeedOnSqlServer(SqlServerStore store) : FeedSpecification<SqlServerStore>(store);
