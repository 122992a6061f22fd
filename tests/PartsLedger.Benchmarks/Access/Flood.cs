using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Access;
using PartsLedger.Benchmarks.Identification;
using PartsLedger.Benchmarks.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Exchange;
using PartsLedger.Hosting;

namespace PartsLedger.Benchmarks.Access;

/// <summary>
/// How long an ordinary caller waits while a program with a token of its own abuses the API in every way at once, without a pause, against how
/// long in quiet: rounds alternate, so that both meet the same machine. The program runs in a process of its own, whose memory is told.
/// </summary>
internal static partial class Flood
{
    private const string Ordinary = "{ variants(first: 5) { nodes { code positions { name part { number name } } } } }";

    private static readonly (string Name, string Body)[] Abuses =
    [
        ("100,000 braces", Question(string.Concat(Enumerable.Repeat("{ a ", 100_000)))),
        ("100,000 lists in lists", Question("{ kitFor(worn: " + new string('[', 100_000) + ") { variant } }")),
        ("fragment cycles", Question("{ ...a } " + string.Concat(Enumerable.Range(0, 300).Select(n => $"fragment f{n} on Query {{ ...f{(n + 1) % 300} }} ")) + "fragment a on Query { ...f0 }")),
        ("10,000 aliases", Question("{ " + string.Concat(Enumerable.Range(0, 10_000).Select(n => $"a{n}: __typename ")) + "}")),
        ("10 MB of variables", Question("query($v: String) { __typename }")[..^1] + $",\"variables\":{{\"v\":\"{new string('x', 10_000_000)}\"}}}}"),
        ("900 kB of variables", Question("query($v: String) { __typename }")[..^1] + $",\"variables\":{{\"v\":\"{new string('x', 900_000)}\"}}}}"),
        ("deep lists in variables", Question("{ __typename }")[..^1] + ",\"variables\":{\"v\":" + new string('[', 100_000) + "}"),
        ("a batch of 1,000", "[" + string.Join(',', Enumerable.Repeat(Question("{ __typename }"), 1_000)) + "]"),
        ("lists in lists in lists", Question("{ variants(first: 100) { nodes { positions { part { usedIn(first: 100) { nodes { part { number } } } } } } } }")),
        ("as much as is answered", Question("{ variants(first: 100) { nodes { positions { part { usedIn(first: 10) { nodes { name } } } } } } }")),
    ];

    /// <param name="args">Seconds of each round (6), rounds (5).</param>
    public static async Task Run(string[] args)
    {
        var seconds = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 6;
        var rounds = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 5;
        await foreach (var shop in BenchmarkShop.All())
        {
            var imported = await shop.Services.GetRequiredService<FolderImporter>().Import(Looks.DemoFolder(), new ImportOptions(), Caller.CommandLine, CancellationToken.None);
            if (!imported.Succeeded) throw new InvalidOperationException(imported.Refusal.ToString());
            await Send<AddPerson.Command, PersonActed>(shop, new(NewId(), "Robin", [Role.Administrator]));
            var (ordinary, abuser) = (await Token(shop, "ordinary"), await Token(shop, "abuser"));
            var (server, address) = await Start(shop);
            try
            {
                await Measure(shop, server, new Uri(address), ordinary, abuser, TimeSpan.FromSeconds(seconds), rounds);
            }
            finally
            {
                server.Kill();
                await server.WaitForExitAsync();
            }
        }
    }

    private static async Task Measure(BenchmarkShop shop, Process server, Uri address, string ordinary, string abuser, TimeSpan time, int rounds)
    {
        await Ask(address, ordinary, TimeSpan.FromSeconds(3));
        var (quiet, abused, answers) = (new List<double>(), new List<double>(), new ConcurrentDictionary<(string, int), int>());
        server.Refresh();
        var before = server.PeakWorkingSet64;
        for (var round = 0; round < rounds; round++)
        {
            quiet.AddRange(await Ask(address, ordinary, time));
            using var abusing = new CancellationTokenSource();
            var floods = Abuses.Select(abuse => Task.Run(() => Abuse(address, abuser, abuse, answers, abusing.Token)))
                .Append(Task.Run(() => SlowBodies(address, abuser, abusing.Token))).ToList();
            abused.AddRange(await Ask(address, ordinary, time));
            await abusing.CancelAsync();
            await Task.WhenAll(floods);
        }
        server.Refresh();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"""
            {shop.Address.Database.Scheme}, {Environment.ProcessorCount} processors shared by the program, the ordinary caller and {Abuses.Length} abusers
                quiet       {quiet.Count,6} answers, p50 {At(quiet, 0.5),7:0.00} ms, p99 {At(quiet, 0.99),7:0.00} ms
                under abuse {abused.Count,6} answers, p50 {At(abused, 0.5),7:0.00} ms, p99 {At(abused, 0.99),7:0.00} ms, ratio of the p99 {At(abused, 0.99) / At(quiet, 0.99):0.00}
                most memory {before / 1e6:0} MB in quiet, {server.PeakWorkingSet64 / 1e6:0} MB in all
            """));
        foreach (var ((name, status), count) in answers.OrderBy(answer => answer.Key)) Console.WriteLine($"    {name}: {status} {count} times");
    }

    /// <returns>How many milliseconds each answer took.</returns>
    private static async Task<List<double>> Ask(Uri address, string token, TimeSpan time)
    {
        using var http = Client(address, token);
        var (times, until) = (new List<double>(), Stopwatch.StartNew());
        while (until.Elapsed < time)
        {
            var clock = Stopwatch.StartNew();
            using var answer = await http.PostAsync("/graphql", Json(Question(Ordinary)));
            var text = await answer.Content.ReadAsStringAsync();
            times.Add(clock.Elapsed.TotalMilliseconds);
            if (!answer.IsSuccessStatusCode || text.Contains("\"errors\"", StringComparison.Ordinal)) throw new InvalidOperationException(text);
            await Task.Delay(5);
        }
        return times;
    }

    private static async Task Abuse(Uri address, string token, (string Name, string Body) abuse, ConcurrentDictionary<(string, int), int> answers, CancellationToken cancellation)
    {
        using var http = Client(address, token);
        while (!cancellation.IsCancellationRequested)
            try
            {
                using var answer = await http.PostAsync("/graphql", Json(abuse.Body), cancellation);
                await answer.Content.ReadAsByteArrayAsync(cancellation);
                answers.AddOrUpdate((abuse.Name, (int)answer.StatusCode), 1, (_, count) => count + 1);
            }
            catch (HttpRequestException)
            {
                answers.AddOrUpdate((abuse.Name, 0), 1, (_, count) => count + 1);
            }
            catch (OperationCanceledException)
            {
                return;
            }
    }

    /// <summary>Fifty who announce a body and send a byte of it now and then.</summary>
    private static async Task SlowBodies(Uri address, string token, CancellationToken cancellation)
    {
        var clients = new List<TcpClient>();
        try
        {
            var head = Encoding.ASCII.GetBytes($"POST /graphql HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {token}\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n");
            for (var client = 0; client < 50; client++)
            {
                clients.Add(new TcpClient());
                await clients[^1].ConnectAsync(address.Host, address.Port, cancellation);
                await clients[^1].GetStream().WriteAsync(head, cancellation);
            }
            while (true)
            {
                foreach (var client in clients) await client.GetStream().WriteAsync(" "u8.ToArray(), cancellation);
                await Task.Delay(500, cancellation);
            }
        }
        catch (Exception over) when (over is OperationCanceledException or IOException)
        {
            // Told to stop, or turned away.
        }
        finally
        {
            clients.ForEach(client => client.Dispose());
        }
    }

    private static async Task<(Process Server, string Address)> Start(BenchmarkShop shop)
    {
        var server = Process.Start(new ProcessStartInfo("dotnet",
            [typeof(Dispatcher).Assembly.Location, "serve", "--db", $"{shop.Address.Database.Scheme}:{shop.Address.Connection}", "--urls", "http://127.0.0.1:0"])
        {
            RedirectStandardOutput = true,
        })!;
        while (await server.StandardOutput.ReadLineAsync() is { } line)
        {
            if (Address().Match(line) is not { Success: true } address) continue;
            _ = server.StandardOutput.ReadToEndAsync();
            return (server, address.Value);
        }
        throw new InvalidOperationException("The program ended by itself.");
    }

    private static async Task<string> Token(BenchmarkShop shop, string name) =>
        (await Send<MakeToken.Command, MakeToken.Answer>(shop, new(NewId(), name, [Role.Reader], 5))).Token!.Reveal();

    private static async Task<TAnswer> Send<TAct, TAnswer>(BenchmarkShop shop, TAct act) where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        var sent = await shop.Dispatcher.Send<TAct, TAnswer>(act, Caller.CommandLine, CancellationToken.None);
        return sent.Succeeded ? sent.Result : throw new InvalidOperationException(sent.Refusal.ToString());
    }

    private static HttpClient Client(Uri address, string token) => new(new SocketsHttpHandler { PooledConnectionLifetime = Timeout.InfiniteTimeSpan })
    {
        BaseAddress = address, Timeout = TimeSpan.FromSeconds(100), DefaultRequestHeaders = { Authorization = new AuthenticationHeaderValue("Bearer", token) },
    };

    private static StringContent Json(string body) => new(body, Encoding.UTF8, "application/json");

    private static string Question(string query) => JsonSerializer.Serialize(new { query });

    private static double At(List<double> times, double share)
    {
        times.Sort();
        return times[Math.Min(times.Count - 1, (int)(times.Count * share))];
    }

    private static string NewId() => Guid.NewGuid().ToString("N");

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+")]
    private static partial Regex Address();
}
