using System.Text.Json;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class WhereUsedTests(ShopApi api)
{
    [Fact]
    public async Task Packs_that_hold_a_part_are_found_at_every_depth_with_the_pieces_of_all_ways()
    {
        var packs = await Packs("10-0002");
        Assert.Equal(["80-0002", "90-0001"], packs.Select(pack => pack.GetProperty("pack").GetProperty("number").GetString()));

        // The assembly holds two loose rings and a reseal kit of four.
        Assert.Equal([4m, 6m], packs.Select(pack => pack.GetProperty("pieces").GetDecimal()));
        Assert.Equal([true, true], packs.Select(pack => pack.GetProperty("direct").GetBoolean()));
    }

    [Fact]
    public async Task A_pack_that_holds_it_only_inside_another_names_the_one_between()
    {
        var assembly = (await Packs("020-0001"))[1];
        Assert.Equal("90-0001", assembly.GetProperty("pack").GetProperty("number").GetString());
        Assert.Equal(12m, assembly.GetProperty("pieces").GetDecimal());
        Assert.False(assembly.GetProperty("direct").GetBoolean());
        Assert.Equal("80-0001", Assert.Single(assembly.GetProperty("through").EnumerateArray()).GetString());
    }

    [Fact]
    public async Task A_part_is_used_where_the_list_names_it_and_where_it_names_a_pack_that_holds_it()
    {
        var uses = await Uses("020-0001");
        Assert.Equal([("KR-1A", 7, "direct", "The parts list names 020-0001."), ("KR-1A", 8, "pack", "The parts list names 80-0001: 80-0001 holds 020-0001.")],
            uses.Select(Of));
    }

    [Fact]
    public async Task A_part_is_used_where_the_list_still_names_an_old_number()
    {
        var uses = await Uses("10-0001");
        Assert.Equal(1 + SmallShop.PlainVariants, uses.Count);
        Assert.Equal(("KR-1A", 1, "supersession", "The parts list names 10-0009: 10-0009 was replaced by 10-0001."), Of(uses[0]));
    }

    [Fact]
    public async Task An_old_number_is_used_where_the_list_names_what_replaced_it()
    {
        var use = (await Uses("10-0007"))[0];
        Assert.Equal(["10-0007", "10-0008", "10-0009"], use.GetProperty("through").EnumerateArray().Select(number => number.GetString()));
        Assert.Equal("The parts list names 10-0009: 10-0007 was replaced by 10-0008, 10-0008 was replaced by 10-0009.", use.GetProperty("why").GetString());

        // Its replacement inside a pack: both steps are told.
        var rotorSet = await Uses("20-0009");
        Assert.Contains(("KR-1A", 8, "supersession and pack", "The parts list names 80-0001: 20-0009 was replaced by 020-0001, 80-0001 holds 020-0001."), rotorSet.Select(Of));
    }

    [Theory]
    [InlineData("packsContaining")]
    [InlineData("whereUsed")]
    public async Task An_unknown_part_is_an_error_with_its_code(string field)
    {
        Assert.Equal("UNKNOWN_PART", (await api.Refused($"{{ {field}(part: \"77-77\") {{ pageInfo {{ hasNextPage }} }} }}")).Code);
    }

    private async Task<List<JsonElement>> Packs(string part) =>
        [.. (await api.Ask("query($p: String!) { packsContaining(part: $p) { nodes { pack { number } pieces direct through } } }", new { p = part }))
            .GetProperty("packsContaining").GetProperty("nodes").EnumerateArray()];

    private async Task<List<JsonElement>> Uses(string part) =>
        [.. (await api.Ask("query($p: String!) { whereUsed(part: $p, first: 100) { nodes { how through why variant { code } position { position } } } }", new { p = part }))
            .GetProperty("whereUsed").GetProperty("nodes").EnumerateArray()];

    private static (string?, int, string?, string?) Of(JsonElement use) => (use.GetProperty("variant").GetProperty("code").GetString(),
        use.GetProperty("position").GetProperty("position").GetInt32(), use.GetProperty("how").GetString(), use.GetProperty("why").GetString());
}
