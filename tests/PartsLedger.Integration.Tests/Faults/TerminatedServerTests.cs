using System.Net.Sockets;
using System.Text;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Faults;

/// <summary>The real program, asked to stop while somebody is being answered.</summary>
public sealed class TerminatedServerTests : IAsyncLifetime
{
    private readonly SqliteStore _store = new();

    public ValueTask InitializeAsync() => _store.InitializeAsync();

    [Fact]
    public async Task A_request_in_flight_is_answered_nobody_new_is_taken_and_the_program_ends_with_0()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "There are no signals here; run it where there are.");
        await using var server = await RunningServer.Start(_store.Address.Database.Scheme, _store.Address.Connection);
        const string Question = "{\"query\":\"{ __typename }\"}";
        using var client = new TcpClient();
        await client.ConnectAsync(server.Address.Host, server.Address.Port);
        await client.GetStream().WriteAsync(Encoding.ASCII.GetBytes(
            $"POST /graphql HTTP/1.1\r\nHost: localhost:{server.Address.Port}\r\nContent-Type: application/json\r\nContent-Length: {Question.Length}\r\n\r\n{Question[..5]}"));
        await Task.Delay(500);
        await server.Terminate();

        // Longer than the command line's own patience, which is two seconds unless it is told otherwise.
        await Task.Delay(3_500);
        await Assert.ThrowsAnyAsync<SocketException>(async () =>
        {
            using var late = new TcpClient();
            await late.ConnectAsync(server.Address.Host, server.Address.Port);
        });
        await client.GetStream().WriteAsync(Encoding.ASCII.GetBytes(Question[5..]));
        using var reader = new StreamReader(client.GetStream());
        var answer = await reader.ReadToEndAsync().WaitAsync(TimeSpan.FromSeconds(30));
        Assert.StartsWith("HTTP/1.1 200 OK", answer, StringComparison.Ordinal);
        Assert.Contains("\"__typename\":\"Query\"", answer, StringComparison.Ordinal);
        Assert.Equal(0, await server.Ended());
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();
}
