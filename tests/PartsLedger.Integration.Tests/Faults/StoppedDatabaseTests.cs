using System.Collections.Concurrent;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Catalog;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Faults;

/// <summary>
/// The database server is stopped and started under a running program and four callers who send each request until it is acknowledged:
/// by turns in good order and at once, as when the power fails. <c>PARTSLEDGER_OUTAGES</c> sets how often.
/// </summary>
public sealed class StoppedDatabaseTests
{
    private static readonly int Outages = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_OUTAGES"), out var outages) ? outages : 4;
    private static readonly int Seed = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_SEED"), out var seed) ? seed : Random.Shared.Next();

    [Fact]
    public async Task The_program_outlives_PostgreSQL_being_stopped_and_every_acknowledged_request_is_there_once()
    {
        await using var cluster = await PostgreSqlCluster.TryStart(durable: true);
        Requirements.SkipUnless(cluster is not null, "postgresql", "PostgreSQL is not on this machine: install its server package.");
        TestContext.Current.TestOutputHelper?.WriteLine($"PARTSLEDGER_SEED={Seed}");
        var random = new Random(Seed);
        var address = DatabaseAddress.Parse($"postgresql:{cluster!.Server}").Result;
        await using var services = new ServiceCollection().AddLogging().AddPartsLedger(address).BuildServiceProvider();
        await Prepare(services);

        var acknowledged = new ConcurrentDictionary<string, string>();
        var unanswered = 0;
        await using (var server = await RunningServer.Start("postgresql", cluster.Server))
        {
            using var stop = new CancellationTokenSource();
            var writers = Enumerable.Range(0, 4).Select(_ => Task.Run(async () =>
            {
                while (!stop.IsCancellationRequested)
                {
                    var id = Guid.NewGuid().ToString();
                    string? answer;
                    while ((answer = await server.Receive(id, CancellationToken.None)) is null)
                    {
                        Interlocked.Increment(ref unanswered);
                        await Task.Delay(20, CancellationToken.None);
                    }
                    acknowledged[id] = answer;
                }
            })).ToList();
            for (var outage = 0; outage < Outages; outage++)
            {
                await Progress(acknowledged, writers);
                await Task.Delay(random.Next(0, 300));
                if (outage % 2 == 0) await cluster.StopAtOnce();
                else await cluster.Stop();
                await Task.Delay(random.Next(0, 500));
                await cluster.Start();
            }
            await Progress(acknowledged, writers);
            await stop.CancelAsync();
            await Task.WhenAll(writers);

            foreach (var (id, answer) in acknowledged.Take(20)) Assert.Equal(answer, await server.Receive(id, CancellationToken.None));
        }

        // Connections of before the last stop are still in this process's pool.
        Npgsql.NpgsqlConnection.ClearAllPools();
        await using var scope = services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
        var there = await db.StockTransactions.Select(row => row.RequestId).ToListAsync();
        Assert.Equal(acknowledged.Keys.Order(StringComparer.Ordinal), there.Order(StringComparer.Ordinal));
        Assert.Equal(acknowledged.Count, (await db.StockBalances.Select(row => row.OnHand).SingleAsync()).WholeFloor);
        var verified = await services.GetRequiredService<Dispatcher>().Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(Full: true), CancellationToken.None);
        Assert.True(verified.Succeeded && verified.Result.Sound, verified.Refusal?.ToString());
        Assert.True(unanswered > 0, string.Create(CultureInfo.InvariantCulture, $"No caller noticed {Outages} outages (seed {Seed})."));
    }

    /// <summary>Waits until twenty more requests were acknowledged: the program works again.</summary>
    private static async Task Progress(ConcurrentDictionary<string, string> acknowledged, List<Task> writers)
    {
        var before = acknowledged.Count;
        for (var wait = 0; acknowledged.Count < before + 20; wait++)
        {
            Assert.True(wait < 3000, "No request was acknowledged for half a minute.");
            if (writers.Find(writer => writer.IsFaulted) is { } failed) await failed;
            await Task.Delay(10);
        }
    }

    private static async Task Prepare(ServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
        var opened = await DatabaseOpening.Open(db, CancellationToken.None);
        Assert.True(opened.Succeeded, opened.Refusal?.ToString());
        db.Add(new PartRow { Number = "F-1", NumberKey = "F1", Name = "Fault", Kind = PartKind.Hardware, Unit = "pc", Supplied = true });
        db.Add(new LocationRow { Code = "A-01", CodeKey = "A-01", Name = "Bin" });
        await db.SaveChangesAsync();
    }
}
