using System.Collections.Concurrent;
using System.Globalization;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Catalog;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Faults;

/// <summary>
/// The real program, killed without warning at random moments while four callers receive stock over HTTP, and started again. What was
/// acknowledged is there exactly once, what was not is there once or not at all, and sending everything again converges.
/// <c>PARTSLEDGER_KILLS</c> sets how often it is killed, <c>PARTSLEDGER_SEED</c> the moments.
/// </summary>
public abstract class KilledServerTests<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    private static readonly int Kills = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_KILLS"), out var kills) ? kills : 6;
    private static readonly int Seed = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_SEED"), out var seed) ? seed : Random.Shared.Next();

    private readonly ConcurrentDictionary<string, bool> _sent = new();
    private readonly ConcurrentDictionary<string, string> _acknowledged = new();

    [Fact]
    public async Task What_was_acknowledged_survives_being_killed_and_is_there_once()
    {
        TestContext.Current.TestOutputHelper?.WriteLine($"PARTSLEDGER_SEED={Seed}");
        await Store.With(async db =>
        {
            db.Add(new PartRow { Number = "F-1", NumberKey = "F1", Name = "Fault", Kind = PartKind.Hardware, Unit = "pc", Supplied = true });
            db.Add(new LocationRow { Code = "A-01", CodeKey = "A-01", Name = "Bin" });
            await db.SaveChangesAsync();
        });
        var random = new Random(Seed);
        for (var kill = 0; kill < Kills; kill++)
        {
            await using var server = await RunningServer.Start(Store.Address.Database.Scheme, Store.Address.Connection);
            using var stop = new CancellationTokenSource();
            var before = _acknowledged.Count;
            var writers = Enumerable.Range(0, 4).Select(writer => Task.Run(() => Write(server, stop.Token))).ToList();

            // A server that has just started answers slowly: the random moment counts from its first answer.
            for (var wait = 0; _acknowledged.Count == before && wait < 3000; wait++) await Task.Delay(10);
            await Task.Delay(random.Next(0, 400));
            server.Kill();
            await stop.CancelAsync();
            await Task.WhenAll(writers);
            await Verified();
        }

        // Everything is sent again, with the same ids: what was done answers as before, what was not is done now.
        await using (var server = await RunningServer.Start(Store.Address.Database.Scheme, Store.Address.Connection))
            foreach (var id in _sent.Keys)
            {
                var answer = await server.Receive(id, CancellationToken.None);
                if (_acknowledged.TryGetValue(id, out var before)) Assert.Equal(before, answer);
            }
        await Verified();
        var pieces = await Store.With(db => db.StockBalances.Select(row => row.OnHand).SingleAsync());
        Assert.Equal(_sent.Count, pieces.WholeFloor);
        Assert.True(_acknowledged.Count > Kills, $"Only {_acknowledged.Count} requests were acknowledged (seed {Seed}).");
    }

    private async Task Write(RunningServer server, CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            var id = Guid.NewGuid().ToString();
            _sent[id] = true;
            try
            {
                _acknowledged[id] = Assert.IsType<string>(await server.Receive(id, stop));
            }
            catch (Exception lost) when (lost is HttpRequestException or OperationCanceledException or IOException or JsonException)
            {
                return;
            }
        }
    }

    private async Task Verified()
    {
        // The killed server's own connections may still be closing.
        var outcome = await Store.Dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(Full: true), CancellationToken.None);
        Assert.True(outcome.Succeeded && outcome.Result.Sound, outcome.Refusal?.ToString() ?? string.Join('\n', outcome.Result.Breaches));
        var once = await Store.With(db => db.StockTransactions.GroupBy(row => row.RequestId).Select(group => new { group.Key, Count = group.Count() }).ToListAsync());
        Assert.All(once, request => Assert.True(request.Count == 1 && _sent.ContainsKey(request.Key)));
        var there = once.Select(request => request.Key).ToHashSet();
        Assert.All(_acknowledged.Keys, id => Assert.Contains(id, there));
    }
}

public sealed class KilledServerOnSqlite(SqliteStore store) : KilledServerTests<SqliteStore>(store);

public sealed class KilledServerOnPostgreSql(PostgreSqlStore store) : KilledServerTests<PostgreSqlStore>(store);

public sealed class KilledServerOnSqlServer(SqlServerStore store) : KilledServerTests<SqlServerStore>(store);
