using System.CommandLine;
using System.Net;
using System.Net.Sockets;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using PartsLedger.Commands;

namespace PartsLedger.Integration.Tests.Api;

public sealed partial class ServeCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-serve-").FullName;

    [Fact]
    public async Task Serve_makes_a_missing_database_answers_and_ends_with_0_when_stopped()
    {
        using var stop = new CancellationTokenSource();
        var output = new LineWaiter();
        var running = Run(output, TextWriter.Null, stop.Token, "serve", "--db", $"sqlite:{Path.Combine(_folder, "new.db")}", "--urls", "http://127.0.0.1:0");
        var line = await output.FirstLine.WaitAsync(TimeSpan.FromSeconds(60));
        using var http = new HttpClient { BaseAddress = new Uri(Address().Match(line).Value) };
        Assert.Equal("ok\n", await http.GetStringAsync("/health"));
        await stop.CancelAsync();
        Assert.Equal(0, await running.WaitAsync(TimeSpan.FromSeconds(30)));
    }

    [Fact]
    public async Task A_file_that_is_no_database_is_one_sentence_and_2()
    {
        var file = Path.Combine(_folder, "letter.db");
        await File.WriteAllTextAsync(file, new string('x', 5_000));
        await Refused("serve", "--db", $"sqlite:{file}", "--urls", "http://127.0.0.1:0");
        await Refused("serve", "--db", "paper:ledger");
    }

    [Fact]
    public async Task An_address_that_is_taken_or_none_is_one_sentence_and_2()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        var database = $"sqlite:{Path.Combine(_folder, "shop.db")}";
        await Refused("serve", "--db", database, "--urls", $"http://127.0.0.1:{((IPEndPoint)taken.LocalEndpoint).Port}");
        await Refused("serve", "--db", database, "--urls", "nowhere");
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    private static async Task Refused(params string[] call)
    {
        var error = new StringWriter();
        Assert.Equal(ServeCommand.Unusable, await Run(TextWriter.Null, error, CancellationToken.None, call));
        var line = Assert.Single(error.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries));
        Assert.True(line.Length is > 20 and < 400, line);
    }

    private static Task<int> Run(TextWriter output, TextWriter error, CancellationToken cancellation, params string[] call) =>
        new RootCommand { ServeCommand.Make() }.Parse(call).InvokeAsync(new InvocationConfiguration { Output = output, Error = error }, cancellation);

    [GeneratedRegex(@"http://[0-9.:]+")]
    private static partial Regex Address();

    private sealed class LineWaiter : StringWriter
    {
        private readonly TaskCompletionSource<string> _first = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public Task<string> FirstLine => _first.Task;

        public override Task WriteLineAsync(string? value)
        {
            _first.TrySetResult(value ?? "");
            return Task.CompletedTask;
        }
    }
}
