using Microsoft.Extensions.DependencyInjection;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Catalog;
using PartsLedger.Hosting;

namespace PartsLedger.Benchmarks.Stock;

/// <summary>
/// A fresh database with one bin, removed when done: SQLite in a temporary folder, and PostgreSQL on the server that
/// <c>PARTSLEDGER_TEST_POSTGRESQL</c> names.
/// </summary>
internal sealed class BenchmarkShop : IAsyncDisposable
{
    private readonly Func<Task> _remove;
    private int _parts;

    private BenchmarkShop(DatabaseAddress address, ServiceProvider services, Func<Task> remove) => (Address, Services, _remove) = (address, services, remove);

    public DatabaseAddress Address { get; }

    public ServiceProvider Services { get; }

    public Dispatcher Dispatcher => Services.GetRequiredService<Dispatcher>();

    public int LocationId { get; private set; }

    /// <summary>Every database that can be measured here.</summary>
    public static async IAsyncEnumerable<BenchmarkShop> All()
    {
        var folder = Directory.CreateTempSubdirectory("partsledger-bench-").FullName;
        await using (var shop = await Open($"sqlite:{Path.Combine(folder, "bench.db")}", () =>
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            Directory.Delete(folder, recursive: true);
            return Task.CompletedTask;
        })) yield return shop;

        if (Environment.GetEnvironmentVariable("PARTSLEDGER_TEST_POSTGRESQL") is not { Length: > 0 } server) yield break;
        var name = "partsledger_bench_" + Guid.NewGuid().ToString("n");
        await Administer(server, $"create database {name}");
        var connection = new NpgsqlConnectionStringBuilder(server) { Database = name, MaxPoolSize = 60 }.ConnectionString;
        await using (var shop = await Open($"postgresql:{connection}", async () =>
        {
            NpgsqlConnection.ClearAllPools();
            await Administer(server, $"drop database {name} with (force)");
        })) yield return shop;
    }

    public async Task<T> With<T>(Func<LedgerContext, Task<T>> work)
    {
        await using var scope = Services.CreateAsyncScope();
        return await work(scope.ServiceProvider.GetRequiredService<LedgerContext>());
    }

    public Task<List<(int Id, string Number)>> MakeParts(int count) => With(async db =>
    {
        var rows = Enumerable.Range(0, count).Select(_ =>
        {
            var number = $"B{++_parts:000000}";
            return new PartRow { Number = number, NumberKey = number, Name = number, Kind = PartKind.Seal, Unit = "pc", Supplied = true };
        }).ToList();
        db.AddRange(rows);
        await db.SaveChangesAsync();
        return rows.ConvertAll(row => (row.Id, row.Number));
    });

    public async ValueTask DisposeAsync()
    {
        await Services.DisposeAsync();
        await _remove();
    }

    private static async Task<BenchmarkShop> Open(string text, Func<Task> remove)
    {
        var address = DatabaseAddress.Parse(text).Result;
        var services = new ServiceCollection().AddLogging().AddPartsLedger(address).BuildServiceProvider();
        var shop = new BenchmarkShop(address, services, remove);
        shop.LocationId = await shop.With(async db =>
        {
            var opened = await DatabaseOpening.Open(db, CancellationToken.None);
            if (!opened.Succeeded) throw new InvalidOperationException(opened.Refusal.ToString());
            var bin = new LocationRow { Code = "A-01", CodeKey = "A-01", Name = "Bin" };
            db.Add(bin);
            await db.SaveChangesAsync();
            return bin.Id;
        });
        return shop;
    }

    private static async Task Administer(string server, string sql)
    {
        await using var connection = new NpgsqlConnection(new NpgsqlConnectionStringBuilder(server) { Pooling = false }.ConnectionString);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }
}
