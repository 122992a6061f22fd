using System.Collections.Concurrent;
using System.CommandLine;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Commands;
using PartsLedger.Data;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Stock;

namespace PartsLedger.Integration.Tests.Databases;

/// <summary>Copies of the embedded database are whole, checked, and put back without losing anything.</summary>
public sealed class BackupTests(SqliteStore store) : StockSpecification<SqliteStore>(store), IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-backup-").FullName;

    [Fact]
    public async Task A_copy_taken_while_four_write_is_sound_and_holds_all_that_was_acknowledged_before()
    {
        using var stop = new CancellationTokenSource();
        var acknowledged = new ConcurrentQueue<int>();
        var writers = Enumerable.Range(0, 4).Select(_ => Task.Run(async () =>
        {
            while (!stop.IsCancellationRequested)
            {
                await Receive(Seal, 1);
                acknowledged.Enqueue(1);
            }
        })).ToList();
        var last = 0L;
        for (var copy = 1; copy <= 4; copy++)
        {
            var before = acknowledged.Count;
            while (acknowledged.Count < before + 10) await Task.Delay(5);
            before = acknowledged.Count;
            var (status, output, errors) = await Run("backup", At($"copy-{copy}.db"), "--db", $"sqlite:{Store.Address.Connection}");
            Assert.True(status == 0, errors);
            Assert.Contains("The ledger in it is sound", output, StringComparison.Ordinal);

            var restored = At($"restored-{copy}.db");
            Assert.Equal(0, (await Run("restore", At($"copy-{copy}.db"), "--db", $"sqlite:{restored}")).Status);
            var there = await Transactions(restored);
            Assert.InRange(there, Math.Max(before, last), int.MaxValue);
            last = there;
        }
        await stop.CancelAsync();
        await Task.WhenAll(writers);

        // The last copy is of a moment while the writers went on, not of the end; and it is one file, with nothing beside it.
        Assert.True(acknowledged.Count > last, "Nobody wrote after the last copy.");
        Assert.Equal(["copy-1.db", "copy-2.db", "copy-3.db", "copy-4.db"],
            Directory.GetFiles(_folder, "copy*").Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task A_database_that_is_replaced_is_kept_under_another_name()
    {
        await Receive(Seal, 3);
        Assert.Equal(0, (await Run("backup", At("copy.db"), "--db", $"sqlite:{Store.Address.Connection}")).Status);
        await Receive(Seal, 4);
        Assert.Equal(0, (await Run("backup", At("shop.db"), "--db", $"sqlite:{Store.Address.Connection}")).Status);

        Assert.Contains("is there already", (await Run("restore", At("copy.db"), "--db", $"sqlite:{At("shop.db")}")).Errors, StringComparison.Ordinal);
        Assert.Equal(2, await Transactions(At("shop.db")));
        var (status, output, _) = await Run("restore", At("copy.db"), "--replace", "--db", $"sqlite:{At("shop.db")}");
        Assert.Equal(0, status);
        Assert.Equal(1, await Transactions(At("shop.db")));
        var before = Assert.Single(Directory.GetFiles(_folder, "shop.db.before-*"));
        Assert.Contains(before, output, StringComparison.Ordinal);
        Assert.Equal(2, await Transactions(before));
    }

    [Fact]
    public async Task A_database_that_is_worked_on_is_not_replaced()
    {
        await Receive(Seal, 3);
        await Run("backup", At("copy.db"), "--db", $"sqlite:{Store.Address.Connection}");
        await Run("restore", At("copy.db"), "--db", $"sqlite:{At("shop.db")}");
        await using var services = new ServiceCollection().AddLogging().AddPartsLedger(DatabaseAddress.Parse($"sqlite:{At("shop.db")}").Result).BuildServiceProvider();
        await using var scope = services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
        var restore = (string[])["restore", At("copy.db"), "--replace", "--db", $"sqlite:{At("shop.db")}"];

        // At work on it, as another tool would be; then open as this program has it, doing nothing.
        await using (await db.Database.BeginTransactionAsync()) await RefusedWith("Another program works on", restore);
        Assert.True((await DatabaseOpening.Open(db, CancellationToken.None)).Succeeded);
        await db.Database.OpenConnectionAsync();
        await RefusedWith("Another program works on", restore);
        Assert.Empty(Directory.GetFiles(_folder, "shop.db.*before*"));
        await db.Database.CloseConnectionAsync();
        Assert.Equal(0, (await Run(restore)).Status);
    }

    [Fact]
    public async Task A_copy_by_an_older_program_is_brought_up_to_this_version()
    {
        await using (var services = new ServiceCollection().AddLogging().AddPartsLedger(DatabaseAddress.Parse($"sqlite:{At("old.db")}").Result).BuildServiceProvider())
        {
            await using var scope = services.CreateAsyncScope();
            var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
            var steps = db.Database.GetMigrations().ToList();
            await db.GetService<IMigrator>().MigrateAsync(steps[0]);
        }
        var (status, output, errors) = await Run("backup", At("older.db"), "--db", $"sqlite:{At("old.db")}");
        Assert.True(status == 0, errors);
        Assert.Contains("An older program made it", output, StringComparison.Ordinal);
        (status, output, errors) = await Run("restore", At("older.db"), "--db", $"sqlite:{At("new.db")}");
        Assert.True(status == 0, errors);
        Assert.Contains("The ledger in it is sound: 0 transactions", output, StringComparison.Ordinal);
        await using var scope2 = Store.Services.CreateAsyncScope();
        Assert.Equal(scope2.ServiceProvider.GetRequiredService<LedgerContext>().Database.GetMigrations().Count(), await Steps(At("new.db")));
    }

    [Fact]
    public async Task What_is_of_no_use_is_refused_and_changes_nothing()
    {
        await Receive(Seal, 3);
        await Run("backup", At("copy.db"), "--db", $"sqlite:{Store.Address.Connection}");
        await RefusedWith("never replaces a file", "backup", At("copy.db"), "--db", $"sqlite:{Store.Address.Connection}");
        await RefusedWith("There is no database", "backup", At("none.db"), "--db", $"sqlite:{At("nowhere.db")}");
        await RefusedWith("Only the embedded database", "backup", At("none.db"), "--db", "postgresql:Host=127.0.0.1;Port=1");
        await RefusedWith("There is no file", "restore", At("nowhere.db"), "--db", $"sqlite:{At("new.db")}");

        await File.WriteAllTextAsync(At("letter.txt"), "Dear shop,");
        await RefusedWith("is no copy of an embedded database", "restore", At("letter.txt"), "--db", $"sqlite:{At("new.db")}");

        // A block of the file written over, as by a bad disk.
        var bytes = await File.ReadAllBytesAsync(At("copy.db"));
        Array.Fill(bytes, (byte)0xA5, 8_192, 40_000);
        await File.WriteAllBytesAsync(At("damaged.db"), bytes);
        await RefusedWith("is damaged", "restore", At("damaged.db"), "--db", $"sqlite:{At("new.db")}");

        // Sound as a file, but a piece of stock came from nowhere.
        await Damage.Do(Store, "update stock_balances set on_hand = on_hand + 1000");
        await RefusedWith("BALANCES_EQUAL_LINES", "backup", At("unsound.db"), "--db", $"sqlite:{Store.Address.Connection}");
        Assert.Equal(["copy.db", "damaged.db", "letter.txt"], Directory.GetFiles(_folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string At(string file) => Path.Combine(_folder, file);

    private static async Task RefusedWith(string sentence, params string[] call)
    {
        var (status, _, errors) = await Run(call);
        Assert.Equal(2, status);
        Assert.Contains(sentence, errors, StringComparison.Ordinal);
    }

    private static Task<int> Transactions(string file) => On(file, db => db.StockTransactions.CountAsync());

    private static Task<int> Steps(string file) => On(file, async db => (await db.Database.GetAppliedMigrationsAsync()).Count());

    private static async Task<T> On<T>(string file, Func<LedgerContext, Task<T>> ask)
    {
        await using var services = new ServiceCollection().AddLogging().AddPartsLedger(DatabaseAddress.Parse($"sqlite:{file}").Result).BuildServiceProvider();
        await using var scope = services.CreateAsyncScope();
        return await ask(scope.ServiceProvider.GetRequiredService<LedgerContext>());
    }

    private static async Task<(int Status, string Output, string Errors)> Run(params string[] call)
    {
        var (output, errors) = (new StringWriter(), new StringWriter());
        return (await CommandLine.Run(call, new InvocationConfiguration { Output = output, Error = errors }), output.ToString(), errors.ToString());
    }
}
