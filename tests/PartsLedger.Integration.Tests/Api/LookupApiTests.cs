using System.Text.Json;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>Where stock is, was and moved, and the ledger's feed, over the API.</summary>
[Collection(ApiTests.Name)]
public sealed class LookupApiTests(ShopApi api)
{
    private const string Part = "30-0016";

    [Fact]
    public async Task What_was_received_is_on_hand_in_its_place_in_the_movements_and_in_the_past()
    {
        await Receive(4, "2031-01-01");
        var onHand = (await api.Ask($"{{ onHand(part: \"{Part}\") {{ onHand reserved available pieces {{ place placeKind lot expiresOn expired condition onHand free }} }} }}"))
            .GetProperty("onHand");
        Assert.True(onHand.GetProperty("available").GetDecimal() >= 4);
        Assert.Equal("BIN", onHand.GetProperty("pieces")[0].GetProperty("placeKind").GetString());

        var inPlace = await Nodes("inPlace(place: \"A-01\", first: 100) { nodes { part lot onHand available } }");
        Assert.Contains(inPlace, node => node.GetProperty("part").GetString() == Part);
        var movements = await Nodes($"movements(part: \"{Part}\", place: \"A-01\", act: \"receive\") {{ nodes {{ transaction act at who outside place quantity value reference }} }}");
        Assert.Equal(("A-01", "DN 7"), (movements[0].GetProperty("place").GetString(), movements[0].GetProperty("reference").GetString()));
        Assert.Contains(await Nodes($"movements(part: \"{Part}\") {{ nodes {{ outside }} }}"), node => node.GetProperty("outside").GetString() == "SUPPLIER");

        var past = await Nodes($"stockAsOf(at: \"{movements[0].GetProperty("at").GetString()}\", part: \"{Part}\") {{ nodes {{ place lot quantity value }} }}");
        Assert.Contains(past, node => node.GetProperty("place").GetString() == "A-01");
        Assert.Empty(await Nodes($"stockAsOf(at: \"2001-01-01T00:00:00Z\", part: \"{Part}\") {{ nodes {{ place }} }}"));
        Assert.All(await Nodes("lotsNearExpiry(withinDays: 3650) { nodes { part lot expiresOn expired daysLeft onHand pieces { place } } }"),
            node => Assert.True(node.GetProperty("onHand").GetDecimal() > 0));
    }

    [Fact]
    public async Task The_ledger_is_followed_by_cursor()
    {
        await Receive(1, null);
        var page = await Feed(null, 500);
        while (page.GetProperty("pageInfo").GetProperty("hasNextPage").GetBoolean()) page = await Feed(Cursor(page), 500);
        var cursor = Cursor(page);
        await Receive(2, null);
        await Receive(3, null);
        var next = await Feed(cursor, 1);
        Assert.True(next.GetProperty("pageInfo").GetProperty("hasNextPage").GetBoolean());
        var entries = next.GetProperty("nodes").EnumerateArray().Concat((await Feed(Cursor(next), 500)).GetProperty("nodes").EnumerateArray()).ToList();
        Assert.Equal([2m, 3m], entries.Select(entry => entry.GetProperty("lines").EnumerateArray().Max(line => line.GetProperty("quantity").GetDecimal())));
    }

    [Theory]
    [InlineData("onHand(part: \"no such part\") { onHand }", "UNKNOWN_PART")]
    [InlineData("inPlace(place: \"nowhere\") { nodes { part } }", "UNKNOWN_LOCATION")]
    [InlineData("movements(part: \"30-0016\", from: \"2031-01-02T00:00:00Z\", before: \"2031-01-01T00:00:00Z\") { nodes { id } }", "DATES_REVERSED")]
    [InlineData("stockAsOf(at: \"2001-01-01T00:00:00Z\") { nodes { part } }", "PART_OR_PLACE_NEEDED")]
    [InlineData("stockAsOf(at: \"2999-01-01T00:00:00Z\", place: \"A-01\") { nodes { part } }", "DATE_IN_FUTURE")]
    [InlineData("lotsNearExpiry(withinDays: -1) { nodes { part } }", "DAYS_OUT_OF_RANGE")]
    [InlineData("ledgerFeed(first: 501) { nodes { transaction } }", "BAD_PAGE_SIZE")]
    [InlineData("ledgerFeed(after: \"x\") { nodes { transaction } }", "BAD_CURSOR")]
    public async Task A_question_of_no_use_is_refused_with_its_code(string field, string code) =>
        Assert.Equal(code, (await api.Refused($"{{ {field} }}")).Code);

    /// <summary>This shop's first pieces were put on its shelves past the ledger, so its health says just that.</summary>
    [Fact]
    public async Task A_monitor_is_told_that_the_ledger_is_not_sound()
    {
        await Receive(1, null);
        using var answer = await api.Http.GetAsync("/health/ledger");
        Assert.Equal(System.Net.HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        var health = JsonDocument.Parse(await answer.Content.ReadAsStringAsync()).RootElement;
        Assert.False(health.GetProperty("sound").GetBoolean(), health.ToString());
        Assert.True(health.GetProperty("upTo").GetInt64() > 0);
    }

    private static string Cursor(JsonElement page) => page.GetProperty("pageInfo").GetProperty("endCursor").GetString()!;

    private async Task<JsonElement> Feed(string? after, int first) => (await api.Ask(
        "query($after: String, $first: Int!) { ledgerFeed(after: $after, first: $first) "
        + "{ nodes { transaction act requestId lines { part place outside quantity } } pageInfo { hasNextPage endCursor } } }", new { after, first })).GetProperty("ledgerFeed");

    private async Task<List<JsonElement>> Nodes(string field) =>
        [.. (await api.Ask($"{{ {field} }}")).EnumerateObject().Single().Value.GetProperty("nodes").EnumerateArray()];

    private async Task Receive(int pieces, string? expiresOn)
    {
        var expires = expiresOn is null ? "" : $", lot: \"E-1\", expiresOn: \"{expiresOn}\"";
        var payload = (await api.Ask($"mutation {{ receiveStock(requestId: \"{Guid.NewGuid()}\", document: \"DN 7\", lines: [{{ part: \"{Part}\", location: \"A-01\", "
            + $"quantity: {pieces}{expires} }}]) {{ refusals {{ code sentence }} }} }}")).GetProperty("receiveStock");
        Assert.Empty(payload.GetProperty("refusals").EnumerateArray());
    }
}
