using System.Net.Sockets;
using System.Text;
using System.Text.Json;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>Several who abuse the API at once: each gets its refusal and nothing more, and whoever asks honestly is answered meanwhile.</summary>
[Collection(ApiTests.Name)]
public sealed class AbuseTests(ShopApi api)
{
    private static readonly (string Code, string Body)[] Abuses =
    [
        ("DOCUMENT_TOO_DEEP", Question(string.Concat(Enumerable.Repeat("{ a ", 100_000)))),
        ("DOCUMENT_TOO_LARGE", Question("{ " + string.Concat(Enumerable.Range(0, 10_000).Select(n => $"a{n}: __typename ")) + "}")),
        ("NO_FRAGMENT_CYCLES", Question("{ ...a } fragment a on Query { ...b } fragment b on Query { ...a }")),
        ("BAD_BATCH", "[" + string.Join(',', Enumerable.Repeat(Question("{ __typename }"), 1_000)) + "]"),
        ("BAD_REQUEST", Question("{ __typename }")[..^1] + ",\"variables\":{\"v\":" + new string('[', 100_000) + "}"),
    ];

    [Fact]
    public async Task Whoever_asks_honestly_is_answered_while_others_flood()
    {
        using var abusing = new CancellationTokenSource();
        using var slow = await SlowBody();
        var floods = Abuses.Select(abuse => Task.Run(async () =>
        {
            var refused = 0;
            for (; !abusing.IsCancellationRequested; refused++)
            {
                using var answer = await api.Post(abuse.Body);
                Assert.Contains($"\"{abuse.Code}\"", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
            }
            return refused;
        })).ToList();
        for (var honest = 0; honest < 20; honest++) await api.Ask("{ variants(first: 5) { nodes { code positions { name } } } }");
        await abusing.CancelAsync();
        Assert.All(await Task.WhenAll(floods), refused => Assert.True(refused > 0));

        // Nobody waits for the slow one.
        using var answer = new StreamReader(slow.GetStream());
        Assert.Equal("HTTP/1.1 408 Request Timeout", await answer.ReadLineAsync().WaitAsync(TimeSpan.FromSeconds(60)));
    }

    private static string Question(string query) => JsonSerializer.Serialize(new { query });

    /// <summary>Announces a body and sends one byte of it.</summary>
    private async Task<TcpClient> SlowBody()
    {
        var client = new TcpClient();
        await client.ConnectAsync(api.Http.BaseAddress!.Host, api.Http.BaseAddress.Port);
        await client.GetStream().WriteAsync(Encoding.ASCII.GetBytes(
            "POST /graphql HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{"));
        return client;
    }
}
