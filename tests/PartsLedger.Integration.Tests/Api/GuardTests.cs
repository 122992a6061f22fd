using System.Diagnostics;
using System.Text;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>Cheap requests that would cost much: each is refused in a moment, with a code and a sentence.</summary>
[Collection(ApiTests.Name)]
public sealed class GuardTests(ShopApi api)
{
    // Far above what a refusal takes (tens of milliseconds), even on a machine that is busy with other tests; what tells is the code.
    private static readonly TimeSpan Moment = TimeSpan.FromSeconds(15);

    [Fact]
    public async Task Doubling_fragments_are_refused()
    {
        var query = new StringBuilder("{ ...f0 }");
        for (var n = 0; n < 25; n++) query.Append($" fragment f{n} on Query {{ ...f{n + 1} ...f{n + 1} }}");
        query.Append(" fragment f25 on Query { variants { nodes { code } } }");
        await RefusedInAMoment("DOCUMENT_TOO_LARGE", query.ToString());
    }

    [Fact]
    public async Task A_thousand_meanings_of_one_name_are_refused() =>
        await RefusedInAMoment("DOCUMENT_TOO_LARGE", "{ " + string.Concat(Enumerable.Range(1, 900).Select(n => $"a: variants(first: {n}) {{ nodes {{ code }} }} ")) + "}");

    [Fact]
    public async Task A_field_written_sixteen_thousand_times_is_refused() =>
        await RefusedInAMoment("DOCUMENT_TOO_LARGE", "{ " + string.Concat(Enumerable.Repeat("hello ", 16_000)) + "}");

    [Fact]
    public async Task Twenty_thousand_unknown_fields_are_refused() =>
        await RefusedInAMoment("DOCUMENT_TOO_LARGE", "{ " + string.Concat(Enumerable.Range(0, 20_000).Select(n => $"f{n} ")) + "}");

    [Fact]
    public async Task Many_directives_on_one_field_are_refused() =>
        await RefusedInAMoment("DOCUMENT_TOO_LARGE", "{ __typename " + string.Concat(Enumerable.Repeat("@skip(if: false) ", 5_000)) + "}");

    [Fact]
    public async Task Brackets_without_end_are_refused()
    {
        await RefusedInAMoment("DOCUMENT_TOO_DEEP", string.Concat(Enumerable.Repeat("{ a ", 200_000)));
        await RefusedInAMoment("DOCUMENT_TOO_DEEP", "{ variant(code: " + new string('[', 100_000) + ") { code } }");
    }

    [Fact]
    public async Task A_query_deeper_than_sixteen_levels_is_refused()
    {
        var query = string.Concat(Enumerable.Repeat("supersededBy { new { ", 9)) + "name " + new string('}', 18);
        await RefusedInAMoment("DOCUMENT_TOO_DEEP", $"{{ part(number: \"10-0007\") {{ {query} }} }}");

        // Hidden in fragments it is as deep.
        var hidden = string.Concat(Enumerable.Range(0, 9).Select(n => $" fragment f{n} on Part {{ supersededBy {{ new {{ ...f{n + 1} }} }} }}"));
        await RefusedInAMoment("DOCUMENT_TOO_DEEP", "{ part(number: \"10-0007\") { ...f0 } }" + hidden + " fragment f9 on Part { name }");
    }

    [Fact]
    public async Task A_fragment_within_itself_is_a_plain_error()
    {
        var answer = await InAMoment("{ ...a } fragment a on Query { ...b } fragment b on Query { ...a }");
        Assert.Equal("NO_FRAGMENT_CYCLES", answer.GetProperty("errors")[0].GetProperty("extensions").GetProperty("code").GetString());

        // A long circle made seconds' work for the library's own rule.
        await RefusedInAMoment("NO_FRAGMENT_CYCLES", "{ ...f0 } " + string.Concat(Enumerable.Range(0, 300).Select(n => $"fragment f{n} on Query {{ ...f{(n + 1) % 300} }} ")));
    }

    [Fact]
    public async Task Lists_within_lists_within_lists_are_refused_by_what_they_would_cost()
    {
        const string Wide = "{ variants(first: 100) { nodes { positions { part { usedIn(first: 100) { nodes { part { number } } } } } } } }";
        await RefusedInAMoment("COMPLEXITY", Wide);

        // Written as variables the same question costs the same.
        const string Asked = "query($n: Int!) { variants(first: $n) { nodes { positions { part { usedIn(first: $n) { nodes { part { number } } } } } } } }";
        await RefusedInAMoment("COMPLEXITY", Asked, new { n = 100 });
    }

    [Fact]
    public async Task A_document_that_was_cheap_is_weighed_again_with_other_variables()
    {
        const string Asked = "query($n: Int!) { variants(first: $n) { nodes { positions { part { usedIn(first: $n) { nodes { name } } } } } } }";
        for (var time = 0; time < 3; time++) await api.Ask(Asked, new { n = 3 });
        await RefusedInAMoment("COMPLEXITY", Asked, new { n = 100 });
        Assert.Equal("BAD_PAGE_SIZE", (await api.Refused("{ variants(first: -1000) { nodes { positions { part { usedIn(first: 100) { nodes { name } } } } } } }")).Code);
    }

    [Fact]
    public async Task Six_questions_about_the_schema_in_one_are_refused() =>
        await RefusedInAMoment("TOO_MUCH_INTROSPECTION", "{ " + string.Concat(Enumerable.Range(0, 6).Select(n => $"s{n}: __schema {{ types {{ name }} }} ")) + "}");

    [Fact]
    public async Task Many_errors_are_cut_to_twenty_and_long_ones_short()
    {
        var answer = await InAMoment("{ " + string.Concat(Enumerable.Range(0, 900).Select(n => $"f{n} ")) + "}");
        Assert.Equal(20, answer.GetProperty("errors").GetArrayLength());
        var long_ = await InAMoment("{ " + new string('f', 500_000) + " }");
        Assert.InRange(long_.GetProperty("errors")[0].GetProperty("message").GetString()!.Length, 1, 700);
    }

    [Fact]
    public async Task Very_long_names_are_refused_without_comparing_them()
    {
        var name = new string('x', 400_000);
        foreach (var query in (string[])["query($s: String!) { variant(code: $s) { code } }", "query($s: String!) { part(number: $s) { number } }",
            "query($s: String!) { variants(family: $s) { nodes { code } } }",
            "query($s: String!) { kitFor(variant: $s, scope: FULL) { complete } }"])
        {
            var code = (await InAMoment(query, new { s = name })).GetProperty("errors")[0].GetProperty("extensions").GetProperty("code").GetString();
            Assert.StartsWith("UNKNOWN_", code, StringComparison.Ordinal);
        }
        Assert.Equal("BAD_SEARCH", (await api.Refused("query($s: String!) { parts(search: $s) { nodes { exact } } }", new { s = name })).Code);
    }

    [Fact]
    public async Task The_introspection_of_ordinary_clients_passes()
    {
        const string OfType = "ofType { kind name ofType { kind name ofType { kind name ofType { kind name ofType { kind name ofType { kind name ofType { kind name } } } } } } }";
        var data = await api.Ask($$"""
            query IntrospectionQuery { __schema { queryType { name } types { ...FullType } directives { name description locations args { ...InputValue } } } }
            fragment FullType on __Type { kind name description
              fields(includeDeprecated: true) { name description args { ...InputValue } type { ...TypeRef } isDeprecated deprecationReason }
              inputFields { ...InputValue } interfaces { ...TypeRef } enumValues(includeDeprecated: true) { name description isDeprecated } possibleTypes { ...TypeRef } }
            fragment InputValue on __InputValue { name description type { ...TypeRef } defaultValue }
            fragment TypeRef on __Type { kind name {{OfType}} }
            """);
        Assert.Equal("Query", data.GetProperty("__schema").GetProperty("queryType").GetProperty("name").GetString());
    }

    private async Task RefusedInAMoment(string code, string query, object? variables = null)
    {
        var answer = await InAMoment(query, variables);
        var error = Assert.Single(answer.GetProperty("errors").EnumerateArray());
        Assert.Equal(code, error.GetProperty("extensions").GetProperty("code").GetString());
        Assert.NotEmpty(error.GetProperty("message").GetString()!);
        Assert.False(answer.TryGetProperty("data", out _));
    }

    private async Task<System.Text.Json.JsonElement> InAMoment(string query, object? variables = null)
    {
        var watch = Stopwatch.StartNew();
        var answer = await api.Send(query, variables);
        Assert.InRange(watch.Elapsed, TimeSpan.Zero, Moment);
        return answer;
    }
}
