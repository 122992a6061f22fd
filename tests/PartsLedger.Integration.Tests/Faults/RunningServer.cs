using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json;

namespace PartsLedger.Integration.Tests.Faults;

/// <summary>The program itself, in a process of its own.</summary>
internal sealed class RunningServer : IAsyncDisposable
{
    private readonly Process _process;
    private readonly HttpClient _http;

    private RunningServer(Process process, HttpClient http) => (_process, _http) = (process, http);

    public static async Task<RunningServer> Start(string scheme, string connection)
    {
        var port = FreePort();
        var start = new ProcessStartInfo("dotnet",
            [typeof(Program).Assembly.Location, "serve", "--db", $"{scheme}:{connection}", "--urls", string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}")])
        {
            RedirectStandardOutput = true, RedirectStandardError = true,
        };
        var process = Process.Start(start)!;
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        var http = new HttpClient { BaseAddress = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}")), Timeout = TimeSpan.FromSeconds(60) };
        for (var wait = 0; ; wait++)
        {
            try
            {
                if ((await http.GetAsync("/health")).IsSuccessStatusCode) return new RunningServer(process, http);
            }
            catch (HttpRequestException) when (wait < 600 && !process.HasExited)
            {
                // Not listening yet.
            }
            Assert.False(process.HasExited, "The server ended by itself.");
            await Task.Delay(100);
        }
    }

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

    /// <summary>At once, with no chance to finish anything (SIGKILL where there are signals).</summary>
    public void Kill() => _process.Kill(entireProcessTree: true);

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited) Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
        _http.Dispose();
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
