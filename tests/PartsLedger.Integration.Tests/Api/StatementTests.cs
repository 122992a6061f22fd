namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class StatementTests(ShopApi api)
{
    // One of them is the door's.
    [Theory]
    [InlineData("positions { part { aliases { number } } }", 5)]
    [InlineData("family { code } pressureClass { code } features { value } applications(first: 2) { nodes { make } }", 6)]
    [InlineData("positions { part { available supersededBy { new { number } } packs(first: 3) { nodes { pack { number } } } usedIn(first: 2) { nodes { name } } } }", 9)]
    public async Task The_statements_of_a_query_of_several_levels_do_not_grow_with_its_rows(string fields, int statements)
    {
        var few = await api.Watch.Statements(() => api.Ask($"{{ variants(first: 2) {{ nodes {{ {fields} }} }} }}"));
        var many = await api.Watch.Statements(() => api.Ask($"{{ variants(first: 50) {{ nodes {{ {fields} }} }} }}"));
        Assert.Equal(few, many);
        Assert.Equal(statements, many);
    }

    [Theory]
    [InlineData("parts(search: \"3\", first: {0}) {{ nodes {{ current {{ part {{ number }} }} part {{ aliases {{ number }} }} }} }}")]
    [InlineData("whereUsed(part: \"10-0001\", first: {0}) {{ nodes {{ variant {{ code }} position {{ name part {{ number }} }} }} }}")]
    [InlineData("applications(first: {0}) {{ nodes {{ variant {{ code family {{ code }} }} }} }}")]
    public async Task The_statements_of_a_search_do_not_grow_with_its_rows(string query)
    {
        var few = await api.Watch.Statements(() => api.Ask("{ " + string.Format(null, query, 2) + " }"));
        var many = await api.Watch.Statements(() => api.Ask("{ " + string.Format(null, query, 50) + " }"));
        Assert.Equal(few, many);

        // A search walks supersessions and packs level by level: so many levels, not so many rows.
        Assert.InRange(many, 2, 20);
    }
}
