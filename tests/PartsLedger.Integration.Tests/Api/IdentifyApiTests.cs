using System.Text.Json;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class IdentifyApiTests(ShopApi api)
{
    [Fact]
    public async Task A_number_is_identified_with_candidates_question_and_notes()
    {
        var answer = (await api.Ask("""
            query($seen: [SeenInput!]) { identify(number: "80-0002", seen: $seen, scope: RESEAL) {
              candidates { variant family pressureClass weight why } next { feature question values expectedSeconds leastSeconds teardown }
              settled sameKit notes lookAgain { given left } cover { totalCost piecesShort lines { part quantity serves } outcomes { variant complete carried returned } } } }
            """, new { seen = Array.Empty<object>() })).GetProperty("identify");
        Assert.Contains("KR-1A", answer.GetProperty("candidates").EnumerateArray().Select(candidate => candidate.GetProperty("variant").GetString()));
        Assert.Empty(answer.GetProperty("lookAgain").EnumerateArray());
        Assert.Equal("UNKNOWN_FEATURE", (await api.Refused("{ identify(seen: [{ feature: \"ears\", value: \"3\" }]) { settled } }")).Code);
    }

    [Fact]
    public async Task Variants_are_compared_and_one_list_for_several_is_found()
    {
        var comparison = (await api.Ask("{ compareVariants(variants: [\"KR-1A\", \"KR-2-001\"]) { variants same rows { aspect name values differs } } }")).GetProperty("compareVariants");
        Assert.Equal(["KR-1A", "KR-2-001"], comparison.GetProperty("variants").EnumerateArray().Select(code => code.GetString()));
        Assert.All(comparison.GetProperty("rows").EnumerateArray(), row => Assert.True(row.GetProperty("differs").GetBoolean()));
        Assert.Equal("family", comparison.GetProperty("rows")[0].GetProperty("aspect").GetString());

        var kit = (await api.Ask("{ kitForAny(variants: [\"KR-1A\", \"KR-2-001\"], scope: RESEAL) { totalCost lines { part serves } outcomes { variant ownCost carried } } }")).GetProperty("kitForAny");
        Assert.Equal(2, kit.GetProperty("outcomes").GetArrayLength());
        var costs = kit.GetProperty("outcomes").EnumerateArray().Select(outcome => outcome.GetProperty("ownCost").GetDecimal() + outcome.GetProperty("carried").GetDecimal());
        Assert.All(costs, cost => Assert.Equal(kit.GetProperty("totalCost").GetDecimal(), cost));
        Assert.Equal("TOO_FEW_VARIANTS", (await api.Refused("{ kitForAny(variants: [\"KR-1A\"], scope: RESEAL) { totalCost } }")).Code);
    }

    [Fact]
    public async Task Numbers_are_searched_in_pages()
    {
        var first = await Search("10-0001", null);
        Assert.True(first.GetProperty("nodes")[0].GetProperty("exact").GetBoolean());
        Assert.True(first.GetProperty("pageInfo").GetProperty("hasNextPage").GetBoolean());
        var next = await Search("10-0001", first.GetProperty("pageInfo").GetProperty("endCursor").GetString());
        Assert.False(next.GetProperty("nodes")[0].GetProperty("exact").GetBoolean());

        async Task<JsonElement> Search(string number, string? after) => (await api.Ask(
            "query($n: String!, $a: String) { searchNumbers(number: $n, first: 1, after: $a) { nodes { number exact why part { number } current { quantity } } pageInfo { hasNextPage endCursor } } }",
            new { n = number, a = after })).GetProperty("searchNumbers");
    }

    [Fact]
    public async Task Machines_are_searched_in_pages_and_uses_are_counted()
    {
        var machine = (await api.Ask("{ applications(first: 1) { nodes { make model } } }")).GetProperty("applications").GetProperty("nodes")[0];
        var found = (await api.Ask("query($t: String!) { searchMachines(text: $t, typing: true) { more notes completions machines(first: 1) { nodes { make exact why variant { code } } pageInfo { endCursor } } } }",
            new { t = $"{machine.GetProperty("make").GetString()} {machine.GetProperty("model").GetString()} " })).GetProperty("searchMachines");
        Assert.True(found.GetProperty("machines").GetProperty("nodes")[0].GetProperty("exact").GetBoolean());
        Assert.Equal("BAD_CURSOR", (await api.Refused("{ searchMachines(text: \"a b\") { machines(after: \"x\") { nodes { make } } } }")).Code);

        var uses = (await api.Ask("{ countUses(part: \"10-0001\") { positions variants machines } machinesUsing(part: \"10-0001\", first: 1) { nodes { make } } }"));
        Assert.Equal(1 + SmallShop.PlainVariants, uses.GetProperty("countUses").GetProperty("positions").GetInt32());
        Assert.True(uses.GetProperty("countUses").GetProperty("machines").GetInt32() >= uses.GetProperty("machinesUsing").GetProperty("nodes").GetArrayLength());
    }
}
