using System.Text.Json;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class PartSearchTests(ShopApi api)
{
    private const string Hit = """
        nodes { matched number source exact part { number } chain { quantity rule old { number } new { number } } current { quantity part { number } } }
        """;

    [Fact]
    public async Task A_part_is_found_by_its_own_number()
    {
        var hit = Assert.Single(await Search("80 0001"));
        Assert.Equal(("number", "80-0001", true), (Text(hit, "matched"), Text(hit, "number"), hit.GetProperty("exact").GetBoolean()));
        Assert.Empty(hit.GetProperty("chain").EnumerateArray());
        Assert.Equal("80-0001", Text(Assert.Single(hit.GetProperty("current").EnumerateArray()).GetProperty("part"), "number"));
    }

    [Fact]
    public async Task An_alias_says_whose_number_it_is()
    {
        var hit = Assert.Single(await Search("cast 771"));
        Assert.Equal(("alias", "CAST 77/1", "casting", "020-0001"),
            (Text(hit, "matched"), Text(hit, "number"), Text(hit, "source"), Text(hit.GetProperty("part"), "number")));
    }

    [Fact]
    public async Task An_old_number_shows_the_chain_to_the_current_and_quantities_multiply()
    {
        var hit = Assert.Single(await Search("10-0007"));
        Assert.Equal("superseded", Text(hit, "matched"));
        Assert.Equal(["10-0008", "10-0009", "10-0001"], hit.GetProperty("chain").EnumerateArray().Select(step => Text(step.GetProperty("new"), "number")));
        var current = Assert.Single(hit.GetProperty("current").EnumerateArray());
        Assert.Equal(("10-0001", 2m), (Text(current.GetProperty("part"), "number"), current.GetProperty("quantity").GetDecimal()));
    }

    [Fact]
    public async Task A_number_replaced_by_a_set_shows_the_set()
    {
        var current = Assert.Single(await Search("20-0009")).GetProperty("current").EnumerateArray()
            .Select(part => (Text(part.GetProperty("part"), "number"), part.GetProperty("quantity").GetDecimal()));
        Assert.Equal([("020-0001", 12m), ("20-0002", 1m)], current.OrderBy(part => part.Item1, StringComparer.Ordinal));
    }

    [Fact]
    public async Task An_exact_match_comes_before_numbers_that_only_begin_alike()
    {
        // 80-0002 is a part's own number and the beginning of another part's alias, which belongs to 80-0001.
        var hits = await Search("80-0002");
        Assert.Equal([("80-0002", "number", true), ("80-0001", "alias", false)],
            hits.Select(hit => (Text(hit.GetProperty("part"), "number"), Text(hit, "matched"), hit.GetProperty("exact").GetBoolean())));
    }

    [Fact]
    public async Task One_number_of_two_parts_finds_both()
    {
        Assert.Equal(["10-0001", "10-0002"], (await Search("SHARED5")).Select(hit => Text(hit.GetProperty("part"), "number")));
    }

    [Theory]
    [InlineData("--")]
    [InlineData("/ . -")]
    public async Task A_search_without_a_letter_or_digit_is_refused(string search)
    {
        Assert.Equal("BAD_SEARCH", (await api.Refused("query($s: String) { parts(search: $s) { nodes { exact } } }", new { s = search })).Code);
    }

    [Fact]
    public async Task A_percent_sign_stands_for_itself()
    {
        Assert.Empty(await Search("%"));
        Assert.Empty(await Search("10_0001"));
    }

    private async Task<List<JsonElement>> Search(string search) =>
        [.. (await api.Ask($"query($s: String) {{ parts(search: $s) {{ {Hit} }} }}", new { s = search })).GetProperty("parts").GetProperty("nodes").EnumerateArray()];

    private static string? Text(JsonElement element, string name) => element.GetProperty(name).GetString();
}
