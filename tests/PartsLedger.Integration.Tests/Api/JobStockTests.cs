using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Domain.Measures;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class JobStockTests(ShopApi api)
{
    private const string Part = "90-0001";

    [Fact]
    public async Task A_job_reserves_pulls_returns_and_releases_over_the_API()
    {
        var job = await Received(5);
        var reserve = $$"""
            mutation { reserveForJob(requestId: "{{Guid.NewGuid()}}", job: "{{job}}", lines: [{ part: "{{Part}}", quantity: 4 }]) {
              result { reservation job expiresAt reserved { part place lot condition quantity } missing { quantity } } refusals { code } } }
            """;
        var first = await api.Ask(reserve);
        Assert.Equal(first.ToString(), (await api.Ask(reserve)).ToString());
        var pieces = Assert.Single(first.GetProperty("reserveForJob").GetProperty("result").GetProperty("reserved").EnumerateArray());
        Assert.Equal((Part, "NEW", 4m), (Text(pieces, "part"), Text(pieces, "condition"), pieces.GetProperty("quantity").GetDecimal()));

        var open = await Open(job);
        Assert.Equal(4m, Assert.Single(open[0].GetProperty("open").EnumerateArray()).GetProperty("quantity").GetDecimal());
        Assert.Equal("this machine", Text(open[0], "by"));

        var pulled = (await Do($"pullStock(requestId: \"{Guid.NewGuid()}\", job: \"{job}\", part: \"{Part}\", quantity: 3, from: RESERVED) "
            + "{ result { transaction ofReserved pulled { place quantity } } refusals { code } }")).GetProperty("result");
        Assert.Equal(3m, pulled.GetProperty("ofReserved").GetDecimal());
        var place = Text(pulled.GetProperty("pulled")[0], "place");

        var back = (await Do($"returnFromJob(requestId: \"{Guid.NewGuid()}\", job: \"{job}\", part: \"{Part}\", quantity: 1, to: \"{place}\", condition: USED) "
            + "{ result { transaction act at } refusals { code } }")).GetProperty("result");
        Assert.Equal("return", Text(back, "act"));

        var freed = (await Do($"releaseReservation(requestId: \"{Guid.NewGuid()}\", job: \"{job}\") {{ result {{ job released {{ quantity }} }} refusals {{ code }} }}"))
            .GetProperty("result");
        Assert.Equal(1m, Assert.Single(freed.GetProperty("released").EnumerateArray()).GetProperty("quantity").GetDecimal());
        Assert.Empty(await Open(job));
    }

    [Theory]
    [InlineData("pullStock(requestId: \"{id}\", job: \"none\", part: \"90-0001\", quantity: 1, from: RESERVED)", "NO_RESERVATION")]
    [InlineData("pullStock(requestId: \"{id}\", job: \"none\", part: \"90-0001\", quantity: 0.0001)", "QUANTITY_TOO_FINE")]
    [InlineData("pullStock(requestId: \"{id}\", job: \"none\", part: \"90-0001\", quantity: 79000000000000000000000000000)", "QUANTITY_TOO_LARGE")]
    [InlineData("pullStock(requestId: \"{id}\", job: \"none\", part: \"90-0001\", quantity: -79000000000000000000000000000)", "QUANTITY_NOT_POSITIVE")]
    [InlineData("pullStock(requestId: \"\", job: \"none\", part: \"90-0001\", quantity: 1)", "REQUEST_ID_MISSING")]
    [InlineData("reserveForJob(requestId: \"{id}\", job: \"none\", lines: [])", "NOTHING_TO_DO")]
    [InlineData("reserveForJob(requestId: \"{id}\", job: \"none\", lines: [{ part: \"90-0001\", quantity: 1.00005 }])", "QUANTITY_TOO_FINE")]
    [InlineData("reserveForJob(requestId: \"{id}\", job: \"none\", lines: [{ part: \"no such part\", quantity: 1 }])", "UNKNOWN_PART")]
    [InlineData("releaseReservation(requestId: \"{id}\", job: \"none\")", "NO_RESERVATION")]
    [InlineData("returnFromJob(requestId: \"{id}\", job: \"none\", part: \"90-0001\", quantity: 1, to: \"nowhere\")", "UNKNOWN_LOCATION")]
    public async Task A_refused_act_is_an_answer_with_the_refusal(string act, string code)
    {
        var payload = await Do(act.Replace("{id}", Guid.NewGuid().ToString(), StringComparison.Ordinal) + " { result { __typename } refusals { code sentence whatToDo } }");
        Assert.Equal(JsonValueKind.Null, payload.GetProperty("result").ValueKind);
        var refusal = Assert.Single(payload.GetProperty("refusals").EnumerateArray());
        Assert.Equal(code, Text(refusal, "code"));
        Assert.NotEmpty(Text(refusal, "sentence"));
        Assert.NotEmpty(Text(refusal, "whatToDo"));
    }

    [Fact]
    public async Task Reservations_are_listed_page_by_page_by_job_and_part()
    {
        var job = await Received(3);
        for (var list = 0; list < 3; list++)
            await Do($"reserveForJob(requestId: \"{Guid.NewGuid()}\", job: \"{job}\", lines: [{{ part: \"{Part}\", quantity: 1 }}]) {{ refusals {{ code }} }}");
        var ids = new List<string>();
        string? after = null;
        do
        {
            var page = (await api.Ask($"query($after: String) {{ reservations(job: \"{job.ToLowerInvariant()}\", part: \"{Part}\", first: 2, after: $after) "
                + "{ nodes { id } pageInfo { hasNextPage endCursor } } }", new { after })).GetProperty("reservations");
            ids.AddRange(page.GetProperty("nodes").EnumerateArray().Select(node => Text(node, "id")));
            after = page.GetProperty("pageInfo").GetProperty("hasNextPage").GetBoolean() ? Text(page.GetProperty("pageInfo"), "endCursor") : null;
        }
        while (after is not null);
        Assert.Equal((3, 3), (ids.Count, ids.Distinct().Count()));
        Assert.Empty((await api.Ask($"{{ reservations(job: \"{job}\", part: \"10-0002\") {{ nodes {{ id }} }} }}")).GetProperty("reservations").GetProperty("nodes").EnumerateArray());
        Assert.Equal("UNKNOWN_PART", (await api.Refused("{ reservations(part: \"no such part\") { nodes { id } } }")).Code);
        Assert.Equal("BAD_CURSOR", (await api.Refused("{ reservations(after: \"x\") { nodes { id } } }")).Code);
        Assert.Equal("BAD_PAGE_SIZE", (await api.Refused("{ reservations(first: -1) { nodes { id } } }")).Code);
        await Do($"releaseReservation(requestId: \"{Guid.NewGuid()}\", job: \"{job}\") {{ refusals {{ code }} }}");
    }

    /// <summary>A new job, and so many pieces more for it.</summary>
    private async Task<string> Received(long pieces)
    {
        var received = await api.App.Services.GetRequiredService<Dispatcher>().Send<ReceiveStock.Command, StockPosted>(
            new(Guid.NewGuid().ToString(), "DN 1", [new(Part, await SomePlace(), Quantity.FromWhole(pieces))]), Caller.ThisMachine, CancellationToken.None);
        Assert.True(received.Succeeded, received.Refusal?.ToString());
        return "J-" + Guid.NewGuid().ToString("n")[..12].ToUpperInvariant();
    }

    private async Task<string> SomePlace()
    {
        await using var scope = api.App.Services.CreateAsyncScope();
        return scope.ServiceProvider.GetRequiredService<Data.LedgerContext>().Locations
            .Where(row => row.Kind == Domain.Stock.LocationKind.Bin).OrderBy(row => row.Id).Select(row => row.Code).First();
    }

    private async Task<JsonElement> Do(string act) =>
        (await api.Ask($"mutation {{ {act} }}")).EnumerateObject().Single().Value;

    private async Task<JsonElement[]> Open(string job) =>
        [.. (await api.Ask($"{{ reservations(job: \"{job}\") {{ nodes {{ id job by madeAt expiresAt open {{ part quantity }} }} }} }}"))
            .GetProperty("reservations").GetProperty("nodes").EnumerateArray()];

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;
}
