using System.Diagnostics;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace PartsLedger.Integration.Tests.Faults;

/// <summary>The program itself, in a process of its own.</summary>
internal sealed partial class RunningServer : IAsyncDisposable
{
    private readonly Process _process;
    private readonly HttpClient _http;

    private RunningServer(Process process, HttpClient http) => (_process, _http) = (process, http);

    public static async Task<RunningServer> Start(string scheme, string connection, params (string Name, string Value)[] environment)
    {
        // The server takes a free port itself and says which: one that is chosen here could be somebody else's by the time it starts.
        var start = new ProcessStartInfo("dotnet",
            [typeof(Program).Assembly.Location, "serve", "--db", $"{scheme}:{connection}", "--urls", "http://127.0.0.1:0"])
        {
            RedirectStandardOutput = true, RedirectStandardError = true,
        };
        foreach (var (name, value) in environment) start.Environment[name] = value;
        var process = Process.Start(start)!;
        var said = new StringBuilder();
        process.ErrorDataReceived += (_, line) => { lock (said) said.AppendLine(line.Data); };
        process.BeginErrorReadLine();
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (AddressLine().Match(line) is not { Success: true } address) continue;
            _ = process.StandardOutput.ReadToEndAsync();
            return new RunningServer(process, new HttpClient { BaseAddress = new Uri(address.Value), Timeout = TimeSpan.FromSeconds(60) });
        }
        await process.WaitForExitAsync();
        lock (said) Assert.Fail($"The server ended by itself: {said}");
        throw new UnreachableException();
    }

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+")]
    private static partial Regex AddressLine();

    /// <summary>Receives one piece.</summary>
    /// <returns>The acknowledgement, or null when the database did not answer.</returns>
    public async Task<string?> Receive(string id, CancellationToken cancellation)
    {
        using var response = await _http.PostAsJsonAsync("/graphql", new
        {
            query = """
                mutation($id: String!) { receiveStock(requestId: $id, document: "DN 1", lines: [{ part: "F-1", location: "A-01", quantity: 1 }])
                  { result { transaction } refusals { code sentence } } }
                """,
            variables = new { id },
        }, cancellation);
        var answer = await response.Content.ReadFromJsonAsync<JsonElement>(cancellation);

        // The door asks the database too: then nothing was asked at all.
        if (response.StatusCode == System.Net.HttpStatusCode.ServiceUnavailable)
        {
            Assert.Equal("DATABASE_AWAY", answer.GetProperty("errors")[0].GetProperty("extensions").GetProperty("code").GetString());
            return null;
        }
        var payload = answer.GetProperty("data").GetProperty("receiveStock");
        var refusals = payload.GetProperty("refusals").EnumerateArray().Select(refusal => refusal.GetProperty("code").GetString()).ToList();
        if (refusals is ["DATABASE_AWAY"]) return null;
        Assert.True(refusals.Count == 0, payload.ToString());
        return payload.ToString();
    }

    public Uri Address => _http.BaseAddress!;

    /// <summary>Asks it to stop, as a service manager does.</summary>
    public async Task Terminate()
    {
        using var kill = Process.Start("kill", ["-TERM", _process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        await kill.WaitForExitAsync();
    }

    /// <returns>The exit status, once it has ended by itself.</returns>
    public async Task<int> Ended()
    {
        await _process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(60));
        return _process.ExitCode;
    }

    /// <summary>At once, with no chance to finish anything (SIGKILL where there are signals).</summary>
    public void Kill() => _process.Kill(entireProcessTree: true);

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited) Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
        _http.Dispose();
    }
}
