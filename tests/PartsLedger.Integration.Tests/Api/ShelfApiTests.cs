using System.Text.Json;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>Receipts, counts, quarantine, lots and reversals over the API, each test with a part of its own.</summary>
[Collection(ApiTests.Name)]
public sealed class ShelfApiTests(ShopApi api)
{
    private const string Posted = "{ result { transaction act at } refusals { code sentence whatToDo } }";

    [Fact]
    public async Task Pieces_are_received_quarantined_released_scrapped_and_taken_back()
    {
        const string part = "30-0013";
        await Receive(part, 10, 2.5m, "L 1");
        await Done($"quarantineStock(requestId: \"{{id}}\", part: \"{part}\", from: \"A-01\", quantity: 4, reason: \"bent\", to: \"HOLD\", lot: \"L 1\")");
        await Done($"releaseFromQuarantine(requestId: \"{{id}}\", part: \"{part}\", from: \"HOLD\", quantity: 4, condition: USED, reason: \"straight\", to: \"A-01\", lot: \"L 1\")");
        await Done($"splitLot(requestId: \"{{id}}\", part: \"{part}\", lot: \"L 1\", place: \"A-01\", quantity: 2, newLot: \"L 2\", condition: USED)");
        await Done($"mergeLots(requestId: \"{{id}}\", part: \"{part}\", lots: [\"L 2\"], into: \"L 1\")");
        await Done($"moveStock(requestId: \"{{id}}\", part: \"{part}\", from: \"A-01\", to: \"HOLD\", quantity: 1, lot: \"L 1\")");
        await Done($"returnToSupplier(requestId: \"{{id}}\", document: \"RN 1\", lines: [{{ part: \"{part}\", from: \"A-01\", quantity: 1, lot: \"L 1\" }}])");
        var scrap = await Done($"scrapStock(requestId: \"{{id}}\", part: \"{part}\", from: \"A-01\", quantity: 4, reason: \"bent\", lot: \"L 1\")");
        Assert.Equal(5m, await OnHand(part));
        var number = scrap.GetProperty("transaction").ToString();
        await Done($"reverseTransaction(requestId: \"{{id}}\", transaction: {number}, reason: \"wrong bag\")");
        Assert.Equal(9m, await OnHand(part));
        Assert.Equal("ALREADY_REVERSED", await Refusal($"reverseTransaction(requestId: \"{{id}}\", transaction: {number}, reason: \"wrong bag\")"));
    }

    [Fact]
    public async Task The_same_request_id_again_gets_the_same_answer()
    {
        var act = $"mutation {{ receiveStock(requestId: \"{Guid.NewGuid()}\", document: \"DN 1\", lines: [{{ part: \"30-0014\", location: \"A-01\", quantity: 3 }}]) {Posted} }}";
        Assert.Equal((await api.Ask(act)).ToString(), (await api.Ask(act)).ToString());
        Assert.Equal(3m, await OnHand("30-0014"));
    }

    [Fact]
    public async Task A_blind_count_says_which_lines_must_be_counted_again()
    {
        await Receive("30-0015", 70, 1m, null);
        var count = (await api.Ask($"mutation {{ countStock(requestId: \"{Guid.NewGuid()}\", place: \"A-01\", lines: [{{ part: \"30-0015\", counted: 20 }}]) "
            + "{ result { transaction place lines { part lot condition counted verdict difference } } refusals { code } } }")).GetProperty("countStock");
        var result = count.GetProperty("result");
        Assert.Equal(JsonValueKind.Null, result.GetProperty("transaction").ValueKind);
        var line = Assert.Single(result.GetProperty("lines").EnumerateArray());
        Assert.Equal(("COUNT_AGAIN", JsonValueKind.Null), (line.GetProperty("verdict").GetString(), line.GetProperty("difference").ValueKind));
    }

    [Fact]
    public async Task The_worth_of_stock_is_told_part_by_part_and_place_by_place()
    {
        // Other tests use the same shop: what counts is the difference.
        var before = await Worth("30-0016");
        await Receive("30-0016", 4, 1.25m, null);
        var after = await Worth("30-0016");
        Assert.Equal((4m, 5m), (after.Quantity - before.Quantity, after.Value - before.Value));
        Assert.Contains("A-01", after.Places);
    }

    private async Task<(decimal Quantity, decimal Value, IReadOnlyList<string?> Places)> Worth(string number)
    {
        var worth = (await api.Ask("{ stockValue(byPlace: true) { value costing parts(first: 100) { nodes { part quantity unitCost value places { place quantity value } } "
            + "pageInfo { hasNextPage } } } }")).GetProperty("stockValue");
        var nodes = worth.GetProperty("parts").GetProperty("nodes").EnumerateArray().ToList();
        Assert.False(worth.GetProperty("parts").GetProperty("pageInfo").GetProperty("hasNextPage").GetBoolean());
        Assert.Equal(worth.GetProperty("value").GetDecimal(), nodes.Sum(node => node.GetProperty("value").GetDecimal()));
        foreach (var node in nodes.Where(node => node.GetProperty("part").GetString() == number))
        {
            var places = node.GetProperty("places").EnumerateArray().ToList();
            Assert.Equal(node.GetProperty("value").GetDecimal(), places.Sum(place => place.GetProperty("value").GetDecimal()));
            return (node.GetProperty("quantity").GetDecimal(), node.GetProperty("value").GetDecimal(), [.. places.Select(place => place.GetProperty("place").GetString())]);
        }
        return (0, 0, []);
    }

    [Theory]
    [InlineData("receiveStock(requestId: \"{id}\", document: \"DN\", lines: [])", "NOTHING_TO_DO")]
    [InlineData("receiveStock(requestId: \"{id}\", document: \"DN\", lines: [{ part: \"30-0023\", location: \"A-01\", quantity: 0.0001 }])", "QUANTITY_TOO_FINE")]
    [InlineData("receiveStock(requestId: \"{id}\", document: \"DN\", lines: [{ part: \"30-0023\", location: \"A-01\", quantity: 1, unitCost: 0.00001 }])", "COST_TOO_FINE")]
    [InlineData("receiveStock(requestId: \"{id}\", document: \"DN\", lines: [{ part: \"30-0023\", location: \"A-01\", quantity: 1, unitCost: 9900000000000000000000 }])", "COST_OUT_OF_RANGE")]
    [InlineData("receiveStock(requestId: \"{id}\", document: \"DN\", lines: [{ part: \"30-0023\", location: \"A-01\", quantity: 1, lot: \"L\", curedOn: \"9999-12-31\" }])", "DATE_IN_FUTURE")]
    [InlineData("moveStock(requestId: \"{id}\", part: \"30-0023\", from: \"A-01\", to: \"A-01\", quantity: 1)", "SAME_PLACE")]
    [InlineData("scrapStock(requestId: \"{id}\", part: \"30-0023\", from: \"A-01\", quantity: 1, reason: \"\")", "REASON_MISSING")]
    [InlineData("quarantineStock(requestId: \"{id}\", part: \"30-0023\", from: \"A-01\", quantity: -1, reason: \"bent\")", "QUANTITY_NOT_POSITIVE")]
    [InlineData("countStock(requestId: \"{id}\", place: \"nowhere\", lines: [{ part: \"30-0023\", counted: 1 }])", "UNKNOWN_LOCATION")]
    [InlineData("mergeLots(requestId: \"{id}\", part: \"30-0023\", lots: [\"L 9\"], into: \"L 8\")", "UNKNOWN_LOT")]
    [InlineData("reverseTransaction(requestId: \"{id}\", transaction: 999999999, reason: \"wrong\")", "UNKNOWN_TRANSACTION")]
    [InlineData("setShopChoice(requestId: \"{id}\", name: \"colour\", value: \"blue\")", "UNKNOWN_CHOICE")]
    public async Task A_refused_act_is_an_answer_with_the_refusal(string act, string code) => Assert.Equal(code, await Refusal(act));

    private async Task Receive(string part, int pieces, decimal cost, string? lot) => await Done(FormattableString.Invariant(
        $"receiveStock(requestId: \"{{id}}\", document: \"DN 1\", lines: [{{ part: \"{part}\", location: \"A-01\", quantity: {pieces}, unitCost: {cost}{(lot is null ? "" : $", lot: \"{lot}\"")} }}])"));

    private async Task<decimal> OnHand(string part)
    {
        var nodes = (await api.Ask("{ stockValue { parts(first: 100) { nodes { part quantity } } } }")).GetProperty("stockValue").GetProperty("parts").GetProperty("nodes");
        return nodes.EnumerateArray().Where(node => node.GetProperty("part").GetString() == part).Sum(node => node.GetProperty("quantity").GetDecimal());
    }

    private async Task<JsonElement> Done(string act)
    {
        var payload = await Send(act, Posted);
        Assert.Empty(payload.GetProperty("refusals").EnumerateArray());
        return payload.GetProperty("result");
    }

    private async Task<string> Refusal(string act)
    {
        var payload = await Send(act, "{ result { __typename } refusals { code sentence whatToDo } }");
        Assert.Equal(JsonValueKind.Null, payload.GetProperty("result").ValueKind);
        var refusal = Assert.Single(payload.GetProperty("refusals").EnumerateArray());
        Assert.NotEmpty(refusal.GetProperty("sentence").GetString()!);
        Assert.NotEmpty(refusal.GetProperty("whatToDo").GetString()!);
        return refusal.GetProperty("code").GetString()!;
    }

    private async Task<JsonElement> Send(string act, string selection) => (await api.Ask(
        $"mutation {{ it: {act.Replace("{id}", Guid.NewGuid().ToString(), StringComparison.Ordinal)} {selection} }}")).GetProperty("it");
}
