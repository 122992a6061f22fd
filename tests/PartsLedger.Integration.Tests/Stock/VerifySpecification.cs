using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Stock;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>What verify finds sound, and that every kind of damage, done past the program and its triggers, is found and named.</summary>
public abstract class VerifySpecification<TStore>(TStore store) : StockSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_shop_that_only_used_the_program_is_sound_in_full_and_from_the_last_time_on()
    {
        await Work();
        var first = await Verify(full: false);
        Assert.True(first.Sound && first.Full, Breaches(first));
        Assert.Equal(4, first.Counted.Transactions);

        await Receive(Seal, 2);
        var second = await Verify(full: false);
        Assert.True(second is { Sound: true, Full: false }, Breaches(second));
        Assert.Equal((1, first.UpTo), (second.Counted.Transactions, second.After));
        var whole = await Verify(full: true);
        Assert.True(whole is { Sound: true, Full: true }, Breaches(whole));
        Assert.Equal(5, whole.Counted.Transactions);
    }

    [Theory]
    [InlineData("update stock_lines set quantity = quantity + 1000 where id = (select min(id) from stock_lines)", "LINES_SUM_TO_ZERO")]
    [InlineData("update stock_lines set value = value + 1 where id = (select max(id) from stock_lines where quantity > 0)", "LINES_SUM_TO_ZERO")]
    [InlineData("update stock_balances set on_hand = on_hand + 1000 where id = (select min(id) from stock_balances)", "BALANCES_EQUAL_LINES")]
    [InlineData("update stock_parts set value = value + 1 where on_hand > 0", "PARTS_EQUAL_LINES")]
    [InlineData("update stock_balances set reserved = reserved + 1000 where on_hand > reserved + 1000", "RESERVED_IS_SPOKEN_FOR")]
    [InlineData("delete from requests where request_id = (select min(request_id) from stock_transactions)", "REQUESTS_POST_ONCE")]
    public async Task Damage_past_the_program_is_found_and_named(string sql, string rule)
    {
        await Work();
        Assert.True((await Verify(full: true)).Sound);
        await PastTheTriggers(sql);
        var found = await Verify(full: true);
        Assert.False(found.Sound);
        Assert.Contains(found.Breaches, breach => breach.Rule == rule);

        // What is not sound is not taken as verified: it is found again.
        Assert.False((await Verify(full: true)).Sound);
    }

    [Fact]
    public async Task A_changed_balance_is_found_even_when_only_what_is_new_is_gone_through()
    {
        await Work();
        Assert.True((await Verify(full: false)).Sound);
        await PastTheTriggers("update stock_balances set on_hand = on_hand + 1000 where id = (select min(id) from stock_balances)");
        var found = await Verify(full: false);
        Assert.False(found.Sound || found.Full);
    }

    private static string Breaches(VerifyLedger.Answer answer) => string.Join('\n', answer.Breaches);

    /// <summary>Two receipts, a move, a reservation and a pull.</summary>
    private async Task Work()
    {
        await Receive(Seal, 10, cost: 0.3333m);
        await Receive(LotSeal, 5, cost: 4m, lot: "L1");
        await Accepted(new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(3)));
        foreach (var job in (string[])["J-1", "J-2"])
            Assert.True((await Store.Dispatcher.Send<ReserveForJob.Command, ReserveForJob.Answer>(new(NewId(), job, [new(Seal, Pieces(2))]), Counter, default)).Succeeded);
        var pulled = await Store.Dispatcher.Send<PullStock.Command, PullStock.Answer>(new(NewId(), "J-1", Seal, Pieces(2), PullFrom.Reserved), Counter, default);
        Assert.True(pulled.Succeeded, pulled.Refusal?.ToString());
    }

    private async Task<VerifyLedger.Answer> Verify(bool full)
    {
        var outcome = await Store.Dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(full), CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private Task PastTheTriggers(string sql) => Store.With(async db =>
    {
        var (before, after) = Store.Name switch
        {
            "sqlite" => ("drop trigger stock_lines_append_only_update", ""),
            "postgresql" => ("set session_replication_role = replica", "set session_replication_role = default"),
            _ => ("disable trigger all on stock_lines", "enable trigger all on stock_lines"),
        };
        await db.Database.OpenConnectionAsync();
        await db.Database.ExecuteSqlRawAsync(before);
        Assert.True(await db.Database.ExecuteSqlRawAsync(sql) > 0);
        if (after.Length > 0) await db.Database.ExecuteSqlRawAsync(after);
    });
}

public sealed class VerifyOnSqlite(SqliteStore store) : VerifySpecification<SqliteStore>(store);

public sealed class VerifyOnPostgreSql(PostgreSqlStore store) : VerifySpecification<PostgreSqlStore>(store);

public sealed class VerifyOnSqlServer(SqlServerStore store) : VerifySpecification<SqlServerStore>(store);
