using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>The ledger as the database itself guards it: tried through plain SQL, past every rule of the program.</summary>
public abstract class AppendOnlySpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    [Theory]
    [InlineData("update stock_lines set quantity = 1")]
    [InlineData("delete from stock_lines")]
    [InlineData("update stock_transactions set who = 'somebody else'")]
    [InlineData("delete from stock_transactions")]
    public async Task What_is_written_cannot_be_changed_or_deleted(string sql)
    {
        await OpeningCount(Quantity.FromWhole(5));
        await Assert.ThrowsAnyAsync<DbException>(() => Store.With(db => db.Database.ExecuteSqlRawAsync(sql)));
        Assert.Equal([-5000L, 5000L], await Store.With(db => db.StockLines.OrderBy(line => line.Id).Select(line => line.Quantity)
            .ToListAsync()).ContinueWith(lines => lines.Result.Select(quantity => quantity.Thousandths)));
        Assert.Equal("counter", await Store.With(db => db.StockTransactions.Select(row => row.Who).SingleAsync()));
    }

    [Theory]
    [InlineData("update stock_balances set on_hand = -1")]
    [InlineData("update stock_balances set reserved = on_hand + 1")]
    [InlineData("update stock_balances set reserved = -1")]
    [InlineData("update stock_balances set condition = 'shiny'")]
    [InlineData("update stock_balances set lot_slot = 7")]
    [InlineData("update parts set number_key = ''")]
    [InlineData("update parts set cost = -1")]
    [InlineData("delete from parts")]
    public async Task The_database_refuses_what_must_never_be(string sql)
    {
        await OpeningCount(Quantity.FromWhole(5));
        await Assert.ThrowsAnyAsync<DbException>(() => Store.With(db => db.Database.ExecuteSqlRawAsync(sql)));
    }

    [Fact]
    public async Task Taking_more_than_a_place_holds_is_a_lost_race_and_leaves_nothing()
    {
        var (part, bin) = await OpeningCount(Quantity.FromWhole(5));
        await Assert.ThrowsAsync<RaceLost>(() => Post(new Movement(part, Quantity.FromWhole(6), InBin(bin), Outside)));
        Assert.Equal(Quantity.FromWhole(5), await Store.With(db => db.StockBalances.Select(row => row.OnHand).SingleAsync()));
        Assert.Equal(2, await Store.With(db => db.StockLines.CountAsync()));
    }

    [Fact]
    public async Task Pieces_that_never_enter_the_shop_are_no_movement()
    {
        var (part, _) = await OpeningCount(Quantity.FromWhole(5));
        await Assert.ThrowsAsync<InvariantViolation>(() => Post(new Movement(part, Quantity.FromWhole(1), Outside, Outside)));
    }

    private static Slot Outside => Slot.Out(OutsideWorld.Opening, null, StockCondition.New);

    private static Slot InBin(int bin) => Slot.In(bin, null, StockCondition.New);

    private async Task<(int Part, int Bin)> OpeningCount(Quantity quantity)
    {
        var (part, bin) = await PartAndBin();
        await Post(new Movement(part, quantity, Outside, InBin(bin)));
        return (part, bin);
    }

    private Task Post(Movement movement) => Store.With(async db =>
    {
        await using var transaction = await db.Database.BeginTransactionAsync();
        var ledger = new Ledger(db, Store.Address.Database, new ShopSettings(), new StockReader());
        await ledger.Begin([movement.PartId], Store.Clock.GetUtcNow(), CancellationToken.None);
        await ledger.Post(new Posting("count", Guid.NewGuid().ToString()), [movement],
            new ActContext(db, new Caller("counter", Role.Counter), Store.Clock.GetUtcNow()), CancellationToken.None);
        await transaction.CommitAsync();
    });

    private Task<(int Part, int Bin)> PartAndBin() => Store.With(async db =>
    {
        var part = new PartRow { Number = "10-4477", NumberKey = "104477", Name = "Shaft seal", Kind = PartKind.Seal, Unit = "pc", Supplied = true };
        var bin = new LocationRow { Code = "A-01", CodeKey = "A-01", Name = "First bin" };
        db.AddRange(part, bin);
        await db.SaveChangesAsync();
        return (part.Id, bin.Id);
    });
}

public sealed class AppendOnlyOnSqlite(SqliteStore store) : AppendOnlySpecification<SqliteStore>(store);

public sealed class AppendOnlyOnPostgreSql(PostgreSqlStore store) : AppendOnlySpecification<PostgreSqlStore>(store);

public sealed class AppendOnlyOnSqlServer(SqlServerStore store) : AppendOnlySpecification<SqlServerStore>(store);
