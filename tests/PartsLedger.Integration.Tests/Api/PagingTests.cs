using System.Text.Json;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class PagingTests(ShopApi api)
{
    private static readonly (string Field, string Arguments, string Item)[] RootLists =
    [
        ("variants", "", "code"), ("parts", "", "part { number }"), ("parts", "search: \"1\",", "part { number }"), ("applications", "", "make model yearFrom option"),
        ("whereUsed", "part: \"10-0002\",", "variant { code } position { position }"), ("packsContaining", "part: \"10-0002\",", "pack { number }"),
    ];

    private static readonly (string Owner, string Field, string Item)[] NestedLists =
    [
        ("variant(code: \"KR-1A\")", "applications", "yearFrom option"), ("part(number: \"10-0009\")", "usedIn", "variant { code } position"),
        ("part(number: \"10-0002\")", "packs", "pack { number }"),
    ];

    public static TheoryData<int, int> Roots =>
        [.. Enumerable.Range(0, RootLists.Length).SelectMany(list => (int[])[1, 7, 100], (list, size) => (list, size))];

    public static TheoryData<int, int> Nested =>
        [.. Enumerable.Range(0, NestedLists.Length).SelectMany(list => (int[])[1, 7], (list, size) => (list, size))];

    [Theory]
    [MemberData(nameof(Roots))]
    public async Task Going_on_after_each_cursor_shows_every_entry_of_a_list_exactly_once(int list, int size)
    {
        var (field, arguments, item) = RootLists[list];
        var paged = await Walk(size, after => $"{{ {field}({arguments} first: {size}{after}) {{ edges {{ cursor node {{ {item} }} }} nodes {{ {item} }} pageInfo {{ hasNextPage hasPreviousPage startCursor endCursor }} }} }}",
            data => data.GetProperty(field));
        var largest = await Walk(100, after => $"{{ {field}({arguments} first: 100{after}) {{ edges {{ cursor node {{ {item} }} }} nodes {{ {item} }} pageInfo {{ hasNextPage hasPreviousPage startCursor endCursor }} }} }}",
            data => data.GetProperty(field));
        Assert.Equal(largest, paged);
        Assert.Equal(paged.Count, paged.Distinct().Count());
        Assert.True(paged.Count >= 2);
    }

    [Theory]
    [MemberData(nameof(Nested))]
    public async Task Going_on_after_each_cursor_shows_every_entry_of_a_nested_list_exactly_once(int list, int size)
    {
        var (owner, field, item) = NestedLists[list];
        var paged = await Walk(size, after => $"{{ owner: {owner} {{ {field}(first: {size}{after}) {{ edges {{ cursor node {{ {item} }} }} nodes {{ {item} }} pageInfo {{ hasNextPage hasPreviousPage startCursor endCursor }} }} }} }}",
            data => data.GetProperty("owner").GetProperty(field));
        var whole = await Walk(100, after => $"{{ owner: {owner} {{ {field}(first: 100{after}) {{ edges {{ cursor node {{ {item} }} }} nodes {{ {item} }} pageInfo {{ hasNextPage hasPreviousPage startCursor endCursor }} }} }} }}",
            data => data.GetProperty("owner").GetProperty(field));
        Assert.Equal(whole, paged);
        Assert.Equal(paged.Count, paged.Distinct().Count());
        Assert.True(paged.Count >= 2);
    }

    [Fact]
    public async Task Every_row_of_a_level_gets_its_own_first_entries()
    {
        var variants = (await api.Ask("{ variants(first: 3) { nodes { code applications(first: 1) { nodes { model } pageInfo { hasNextPage } } } } }"))
            .GetProperty("variants").GetProperty("nodes").EnumerateArray().ToList();
        Assert.Equal(["Trawler 9", "Lift 1", "Lift 2"],
            variants.Select(variant => Assert.Single(variant.GetProperty("applications").GetProperty("nodes").EnumerateArray()).GetProperty("model").GetString()));
        Assert.Equal([true, false, false], variants.Select(variant => variant.GetProperty("applications").GetProperty("pageInfo").GetProperty("hasNextPage").GetBoolean()));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(101)]
    [InlineData(int.MinValue)]
    public async Task A_page_size_outside_1_to_100_is_refused_everywhere(int first)
    {
        foreach (var (field, arguments, _) in RootLists)
            Assert.Equal("BAD_PAGE_SIZE", (await api.Refused($"{{ {field}({arguments} first: {first}) {{ pageInfo {{ hasNextPage }} }} }}")).Code);
        foreach (var (owner, field, _) in NestedLists)
            Assert.Equal("BAD_PAGE_SIZE", (await api.Refused($"{{ {owner} {{ {field}(first: {first}) {{ pageInfo {{ hasNextPage }} }} }} }}")).Code);
        Assert.Equal("BAD_PAGE_SIZE", (await api.Refused("query($n: Int!) { variants(first: $n) { pageInfo { hasNextPage } } }", new { n = first })).Code);
    }

    [Fact]
    public async Task A_cursor_of_another_list_or_of_nobody_is_refused()
    {
        var cursor = (await api.Ask("{ variants(first: 1) { pageInfo { endCursor } } }")).GetProperty("variants").GetProperty("pageInfo").GetProperty("endCursor").GetString();
        foreach (var bad in (string[])[cursor!, "", "x", "%%%", new string('A', 5000)])
            foreach (var (field, arguments, _) in RootLists.Where(list => list.Field != "variants"))
                Assert.Equal("BAD_CURSOR", (await api.Refused($"query($c: String) {{ {field}({arguments} after: $c) {{ pageInfo {{ hasNextPage }} }} }}", new { c = bad })).Code);
        Assert.Equal("BAD_CURSOR", (await api.Refused("query($c: String) { part(number: \"10-0002\") { packs(after: $c) { pageInfo { hasNextPage } } } }", new { c = cursor })).Code);
    }

    private async Task<List<string>> Walk(int size, Func<string, string> query, Func<JsonElement, JsonElement> list)
    {
        List<string> seen = [];
        for (string? cursor = null; ;)
        {
            var page = list(await api.Ask(query(cursor is null ? "" : $", after: \"{cursor}\"")));
            var edges = page.GetProperty("edges").EnumerateArray().ToList();
            var info = page.GetProperty("pageInfo");
            Assert.InRange(edges.Count, 1, size);
            Assert.Equal(cursor is not null, info.GetProperty("hasPreviousPage").GetBoolean());
            Assert.Equal(edges[0].GetProperty("cursor").GetString(), info.GetProperty("startCursor").GetString());
            Assert.Equal(edges.Select(edge => edge.GetProperty("node").GetRawText()), page.GetProperty("nodes").EnumerateArray().Select(node => node.GetRawText()));
            seen.AddRange(edges.Select(edge => edge.GetProperty("node").GetRawText()));
            cursor = info.GetProperty("endCursor").GetString();
            if (!info.GetProperty("hasNextPage").GetBoolean()) return seen;
            Assert.Equal(size, edges.Count);
        }
    }
}
