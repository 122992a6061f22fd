using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Stock;
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
        Assert.Equal([5000L, -5000L], await Store.With(db => db.StockLines.OrderBy(line => line.Id).Select(line => line.Quantity)
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
    public async Task A_transaction_that_does_not_balance_is_never_written()
    {
        var (part, bin) = await PartAndBin();
        await Assert.ThrowsAsync<InvariantViolation>(() => Store.With(db => new LedgerWriter(db).Append(
            Transaction(Line(part, bin, 5), Line(part, null, -4)), CancellationToken.None)));
        Assert.Equal(0, await Store.With(db => db.StockLines.CountAsync()));
    }

    [Fact]
    public async Task Taking_more_than_a_place_holds_is_a_lost_race_and_leaves_nothing()
    {
        await OpeningCount(Quantity.FromWhole(5));
        var part = await Store.With(db => db.Parts.Select(row => row.Id).SingleAsync());
        var bin = await Store.With(db => db.Locations.Select(row => row.Id).SingleAsync());
        await Assert.ThrowsAsync<RaceLost>(() => Store.With(async db =>
        {
            await using var transaction = await db.Database.BeginTransactionAsync();
            await new LedgerWriter(db).Append(Transaction(Line(part, bin, -6), Line(part, null, 6)), CancellationToken.None);
            await transaction.CommitAsync();
        }));
        Assert.Equal(Quantity.FromWhole(5), await Store.With(db => db.StockBalances.Select(row => row.OnHand).SingleAsync()));
        Assert.Equal(2, await Store.With(db => db.StockLines.CountAsync()));
    }

    private async Task OpeningCount(Quantity quantity)
    {
        var (part, bin) = await PartAndBin();
        await Store.With(db => new LedgerWriter(db).Append(
            Transaction(Line(part, bin, quantity.WholeFloor), Line(part, null, -quantity.WholeFloor)), CancellationToken.None));
    }

    private Task<(int Part, int Bin)> PartAndBin() => Store.With(async db =>
    {
        var part = new PartRow { Number = "10-4477", NumberKey = "104477", Name = "Shaft seal", Kind = PartKind.Seal, Unit = "pc", Supplied = true };
        var bin = new LocationRow { Code = "A-01", CodeKey = "A-01", Name = "First bin" };
        db.AddRange(part, bin);
        await db.SaveChangesAsync();
        return (part.Id, bin.Id);
    });

    private StockTransactionRow Transaction(params StockLineRow[] lines)
    {
        var transaction = new StockTransactionRow { Act = "count", RequestId = Guid.NewGuid().ToString(), At = Store.Clock.GetUtcNow(), Who = "counter" };
        transaction.Lines.AddRange(lines);
        return transaction;
    }

    private static StockLineRow Line(int part, int? location, long pieces) => new()
    {
        PartId = part, LocationId = location, Outside = location is null ? OutsideWorld.Opening : null, Quantity = Quantity.FromWhole(pieces),
    };
}

public sealed class AppendOnlyOnSqlite(SqliteStore store) : AppendOnlySpecification<SqliteStore>(store);

public sealed class AppendOnlyOnPostgreSql(PostgreSqlStore store) : AppendOnlySpecification<PostgreSqlStore>(store);

public sealed class AppendOnlyOnSqlServer(SqlServerStore store) : AppendOnlySpecification<SqlServerStore>(store);
