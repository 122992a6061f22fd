using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Exchange;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Exchange;

public abstract class FolderImportSpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task The_invented_shop_is_taken_whole_and_a_second_time_changes_nothing()
    {
        using var scene = new ImportScene(Store);
        foreach (var file in Directory.GetFiles(DemoFolder.Path)) File.Copy(file, Path.Combine(scene.Folder, Path.GetFileName(file)));

        var first = await scene.Import();
        Assert.Empty(first.Kinds.SelectMany(kind => kind.Rejects).Select(reject => reject.Reason));
        Assert.Equal(0, first.ExitStatus);
        Assert.Equal(FileKinds.All.Select(kind => kind.Name), first.Kinds.Select(kind => kind.Kind));
        Assert.Equal(20, first.Kinds.Count);
        Assert.Equal(["README.md"], first.Ignored);
        Assert.All(first.Kinds, kind => Assert.Equal(Lines(kind.FileName), kind.New));
        Assert.All(first.Kinds, kind => Assert.Equal(0, kind.Changed + kind.Unchanged));
        await AssertLedgerIsSound();
        var lines = await Store.With(db => db.StockLines.CountAsync());

        var second = await scene.Import();
        Assert.All(second.Kinds, kind => Assert.Equal((0, 0, Lines(kind.FileName)), (kind.New, kind.Changed, kind.Unchanged)));
        Assert.Equal(lines, await Store.With(db => db.StockLines.CountAsync()));
        Assert.False(Directory.Exists(scene.Rejects));

        int Lines(string file) => File.ReadAllLines(Path.Combine(scene.Folder, file)).Length - 1;
    }

    [Fact]
    public async Task A_changed_row_is_updated_and_the_others_are_left_alone()
    {
        using var scene = new ImportScene(Store).WriteShop();
        await scene.Import();
        scene.Write("parts", ImportScene.Shop["parts"].Replace("Shaft seal,seal,,,,,0.80,", "Shaft seal 19 mm,seal,,,,,0.95,1.90", StringComparison.Ordinal)
            .Replace("020-8001", "020.8001", StringComparison.Ordinal));

        var report = await scene.Import();

        var parts = report.Kinds.Single(kind => kind.Kind == "parts");
        Assert.Equal((0, 2, 4, 0), (parts.New, parts.Changed, parts.Unchanged, parts.Rejects.Count));
        var seal = await Store.With(db => db.Parts.SingleAsync(row => row.NumberKey == "0201001"));
        Assert.Equal(("Shaft seal 19 mm", "0.95", "1.90"), (seal.Name, seal.Cost.ToString(), seal.Price.ToString()));
        Assert.Equal("020.8001", (await Store.With(db => db.Parts.SingleAsync(row => row.NumberKey == "0208001"))).Number);
    }

    [Fact]
    public async Task The_opening_count_becomes_what_is_on_hand_and_only_differences_are_posted()
    {
        using var scene = new ImportScene(Store).WriteShop().Write("stock",
            "part,location,lot,quantity,condition\n020-1001,A-01,,40,\n020-1001,A-02,,5,used\n020-1002,A-01,26-Q1,100,new\n020-9001,A-02,S-1,1,rebuilt\n020-7001,Q-01,,2.5,new\n");
        var first = Stock(await scene.Import());
        Assert.Equal((5, 0, 0), (first.New, first.Changed, first.Unchanged));
        Assert.Equal(1, await Store.With(db => db.StockTransactions.CountAsync()));
        Assert.Equal("0201001 A-01 - new 40; 0201001 A-02 - used 5; 0201002 A-01 26-Q1 new 100; 0207001 Q-01 - new 2.5; 0209001 A-02 S-1 rebuilt 1", await OnHand());

        // Fewer, all of it in another condition, a place found empty, a new lot.
        scene.Write("stock",
            "part,location,lot,quantity,condition\n020-1001,A-01,,38,\n020-1001,A-02,,4,new\n020-1002,A-01,26-Q1,0,new\n020-1002,A-01,26-Q2,7,new\n020-9001,A-02,S-1,1,rebuilt\n");
        var second = Stock(await scene.Import());
        Assert.Equal((1, 3, 1), (second.New, second.Changed, second.Unchanged));
        Assert.Equal("0201001 A-01 - new 38; 0201001 A-02 - new 4; 0201002 A-01 26-Q2 new 7; 0207001 Q-01 - new 2.5; 0209001 A-02 S-1 rebuilt 1", await OnHand());

        var third = Stock(await scene.Import());
        Assert.Equal((0, 0, 5), (third.New, third.Changed, third.Unchanged));
        Assert.Equal(2, await Store.With(db => db.StockTransactions.CountAsync()));
        var posted = await Store.With(db => db.StockTransactions.OrderBy(row => row.Id).ToListAsync());
        Assert.All(posted, row => Assert.Equal(("count", "opening count"), (row.Act, row.Why)));
        var opening = await Store.With(db => db.StockLines.Where(row => row.Part.NumberKey == "0209001" && row.LocationId == null).SingleAsync());
        Assert.Equal((OutsideWorld.Opening, "150.00"), (opening.Outside!.Value, opening.UnitCost.ToString()));
        await AssertLedgerIsSound();
    }

    [Fact]
    public async Task A_count_below_what_is_reserved_is_rejected()
    {
        using var scene = new ImportScene(Store).WriteShop().Write("stock", "part,location,lot,quantity\n020-1001,A-01,,10\n020-1001,A-02,,3\n");
        await scene.Import();
        await Store.With(async db =>
        {
            var balance = await db.StockBalances.Include(row => row.Location).SingleAsync(row => row.Location.CodeKey == "A-01");
            balance.Reserved = Quantity.FromWhole(6);
            await db.SaveChangesAsync();
        });

        var report = await scene.Write("stock", "part,location,lot,quantity\n020-1001,A-01,,5\n020-1001,A-02,,4\n").Import();

        var stock = Stock(report);
        Assert.Equal((0, 1, 1), (stock.New, stock.Changed, stock.Rejects.Count));
        Assert.Equal((2, "quantity", "6 new of 020-1001 in A-01 are reserved for jobs; the count of 5 would take them away. Release them first."),
            (stock.Rejects[0].Line, stock.Rejects[0].Columns, stock.Rejects[0].Reason));
        Assert.Equal("0201001 A-01 - new 10; 0201001 A-02 - new 4", await OnHand());
        Assert.Equal(3, report.ExitStatus);
    }

    [Fact]
    public async Task A_dry_run_tells_the_same_and_keeps_nothing()
    {
        using var scene = new ImportScene(Store).WriteShop()
            .Write("contents", "pack,part,quantity\n020-8001,020-1001,1\n020-8001,020-0000,1\n").Write("stock", "part,location,lot,quantity\n020-1001,A-01,,10\n");

        var dry = await scene.Import(new ImportOptions(DryRun: true));
        Assert.False(Directory.Exists(scene.Rejects));
        Assert.Equal(0, await Store.With(db => db.Parts.CountAsync()));
        Assert.Equal(0, await Store.With(db => db.StockTransactions.CountAsync()));
        Assert.Equal(0, await Store.With(db => db.StockParts.CountAsync()));
        Assert.Equal(3, dry.ExitStatus);

        var real = await scene.Import();
        Assert.Equal(real.Kinds.Select(Counts), dry.Kinds.Select(Counts));

        static string Counts(KindReport kind) => $"{kind.Kind} {kind.New} {kind.Changed} {kind.Unchanged} {string.Join(' ', kind.Rejects.Select(reject => reject.Reason))}";
    }

    private static KindReport Stock(ImportReport report) => report.Kinds.Single(kind => kind.Kind == "stock");

    private Task<string> OnHand() => Store.With(async db => string.Join("; ", (await db.StockBalances.Where(row => row.OnHand != Quantity.Zero)
        .Select(row => new { row.Part.NumberKey, row.Location.Code, Lot = row.Lot!.Code, row.Condition, row.OnHand }).ToListAsync())
        .Select(row => $"{row.NumberKey} {row.Code} {row.Lot ?? "-"} {Domain.Catalog.Words.Of(row.Condition)} {row.OnHand}").Order(StringComparer.Ordinal)));

    /// <summary>Every transaction sums to zero for each part, and every balance is the sum of its lines.</summary>
    private async Task AssertLedgerIsSound()
    {
        var lines = await Store.With(db => db.StockLines.AsNoTracking().ToListAsync());
        Assert.All(lines.GroupBy(line => (line.TransactionId, line.PartId)), group => Assert.Equal(0, group.Sum(line => line.Quantity.Thousandths)));
        Assert.All(lines.GroupBy(line => (line.TransactionId, line.PartId)), group => Assert.Equal(0, group.Sum(line => line.Value.TenThousandths)));
        var balances = await Store.With(db => db.StockBalances.AsNoTracking().ToListAsync());
        Assert.NotEmpty(balances);
        Assert.Equal(
            Sums(lines.Where(line => line.LocationId is not null), line => (line.PartId, line.LocationId!.Value, line.LotId ?? 0, line.Condition), line => line.Quantity),
            Sums(balances, row => (row.PartId, row.LocationId, row.LotSlot, row.Condition), row => row.OnHand));

        static List<string> Sums<T>(IEnumerable<T> rows, Func<T, (int, int, int, StockCondition)> key, Func<T, Quantity> quantity) =>
            [.. rows.GroupBy(key).Select(group => (group.Key, Sum: group.Sum(row => quantity(row).Thousandths)))
                .Where(group => group.Sum != 0).OrderBy(group => group.Key).Select(group => $"{group.Key} {group.Sum}")];
    }
}

public sealed class FolderImportOnSqlite(SqliteStore store) : FolderImportSpecification<SqliteStore>(store);

public sealed class FolderImportOnPostgreSql(PostgreSqlStore store) : FolderImportSpecification<PostgreSqlStore>(store);

public sealed class FolderImportOnSqlServer(SqlServerStore store) : FolderImportSpecification<SqlServerStore>(store);
