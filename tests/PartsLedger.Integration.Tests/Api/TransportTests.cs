using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class TransportTests(ShopApi api)
{
    private const string Typename = "{\"query\":\"{ __typename }\"}";

    [Fact]
    public async Task A_mutation_by_GET_is_refused_and_the_verb_to_use_is_named()
    {
        foreach (var accept in (string[])["application/json", "application/graphql-response+json"])
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, "/graphql?query=" + Uri.EscapeDataString("mutation { __typename }"));
            request.Headers.Accept.ParseAdd(accept);
            using var response = await api.Http.SendAsync(request);
            Assert.Equal(HttpStatusCode.MethodNotAllowed, response.StatusCode);
            Assert.Equal(["POST"], response.Content.Headers.Allow);
            Assert.Contains(ReadOnlyByGet.Code, await response.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_query_by_GET_takes_its_variables_from_the_address()
    {
        using var response = await api.Http.GetAsync("/graphql?query=" + Uri.EscapeDataString("query($c: String!) { variant(code: $c) { code } }")
            + "&variables=" + Uri.EscapeDataString("{\"c\":\"KR-1A\"}"));
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        Assert.Contains("KR-1A", await response.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("PUT")]
    [InlineData("DELETE")]
    [InlineData("PATCH")]
    public async Task Other_verbs_are_refused_with_those_that_work(string verb)
    {
        using var request = new HttpRequestMessage(new HttpMethod(verb), "/graphql");
        using var response = await api.Http.SendAsync(request);
        Assert.Equal(HttpStatusCode.MethodNotAllowed, response.StatusCode);
        Assert.Equal(["GET", "POST"], response.Content.Headers.Allow.Order());
    }

    [Theory]
    [InlineData("text/plain", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("application/x-www-form-urlencoded", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("multipart/form-data; boundary=x", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("application/json; charset=utf-16", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("", HttpStatusCode.UnsupportedMediaType)]
    [InlineData("application/json; charset=UTF-8", HttpStatusCode.OK)]
    public async Task A_body_is_taken_only_as_JSON_in_utf_8(string type, HttpStatusCode status)
    {
        using var response = await api.Post(Typename, type);
        Assert.Equal(status, response.StatusCode);
    }

    [Theory]
    [InlineData("text/html", HttpStatusCode.NotAcceptable, "application/json")]
    [InlineData("application/json; charset=latin1", HttpStatusCode.NotAcceptable, "application/json")]
    [InlineData("text/html, */*;q=0.1", HttpStatusCode.OK, "application/json")]
    [InlineData("application/json;q=0.5, application/graphql-response+json", HttpStatusCode.OK, "application/graphql-response+json")]
    [InlineData("application/graphql-response+json;q=0, application/json", HttpStatusCode.OK, "application/json")]
    public async Task The_answers_media_type_is_one_that_the_caller_accepts(string accept, HttpStatusCode status, string type)
    {
        using var response = await api.Post(Typename, accept: accept);
        Assert.Equal(status, response.StatusCode);
        Assert.Equal(type, response.Content.Headers.ContentType!.MediaType);
        Assert.Equal("utf-8", response.Content.Headers.ContentType.CharSet);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("{}")]
    [InlineData("\"query\"")]
    [InlineData("{\"query\":1}")]
    [InlineData("{\"query\":\"{ __typename }\",\"variables\":[]}")]
    [InlineData("{\"query\":\"{ __typename }\",\"operationName\":{}}")]
    [InlineData("[]")]
    [InlineData("[1]")]
    public async Task A_body_that_is_no_question_is_a_bad_request(string body)
    {
        using var response = await api.Post(body);
        Assert.Equal(HttpStatusCode.BadRequest, response.StatusCode);
        Assert.Equal(1, (await ShopApi.Read(response)).GetProperty("errors").GetArrayLength());
    }

    [Fact]
    public async Task A_batch_is_answered_in_order_and_an_error_stays_with_its_question()
    {
        using var response = await api.Post("[{\"query\":\"{ variant(code: \\\"KR-1A\\\") { code } }\"},{\"query\":\"{ nope }\"},{\"query\":\"{ __typename }\"}]");
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        var answers = (await ShopApi.Read(response)).EnumerateArray().ToList();
        Assert.Equal("KR-1A", answers[0].GetProperty("data").GetProperty("variant").GetProperty("code").GetString());
        Assert.True(answers[1].TryGetProperty("errors", out _));
        Assert.Equal("Query", answers[2].GetProperty("data").GetProperty("__typename").GetString());
    }

    [Fact]
    public async Task A_batch_holds_at_most_ten()
    {
        using var ten = await api.Post("[" + string.Join(',', Enumerable.Repeat(Typename, 10)) + "]");
        Assert.Equal(10, (await ShopApi.Read(ten)).GetArrayLength());
        using var eleven = await api.Post("[" + string.Join(',', Enumerable.Repeat(Typename, 11)) + "]");
        Assert.Equal(HttpStatusCode.BadRequest, eleven.StatusCode);
        Assert.Contains("BAD_BATCH", await eleven.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_body_above_the_limit_is_refused_whether_or_not_it_says_its_length(bool chunked)
    {
        var body = "{\"query\":\"{ __typename }\",\"extensions\":{\"x\":\"" + new string('x', 1024 * 1024) + "\"}}";
        using var request = new HttpRequestMessage(HttpMethod.Post, "/graphql") { Content = new ByteArrayContent(Encoding.UTF8.GetBytes(body)) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/json");

        // Whoever announces too much is told before sending it; else the connection would break under the sender.
        request.Headers.ExpectContinue = !chunked;
        if (chunked)
        {
            request.Headers.TransferEncodingChunked = true;
            request.Content.Headers.ContentLength = null;
        }
        using var response = await api.Http.SendAsync(request);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, response.StatusCode);
    }

    [Fact]
    public async Task A_page_of_another_site_is_refused_unless_it_could_ask_for_leave_first()
    {
        using var cross = await api.Post(Typename, headers: ("Sec-Fetch-Site", "cross-site"));
        Assert.Equal(HttpStatusCode.Forbidden, cross.StatusCode);
        using var same = await api.Post(Typename, headers: ("Sec-Fetch-Site", "same-origin"));
        Assert.Equal(HttpStatusCode.OK, same.StatusCode);
        using var custom = await api.Post(Typename, headers: [("Sec-Fetch-Site", "cross-site"), (GraphQlEndpoint.CustomHeader, "1")]);
        Assert.Equal(HttpStatusCode.OK, custom.StatusCode);
    }

    [Fact]
    public async Task A_question_that_takes_too_long_is_given_up()
    {
        api.Watch.Delay = ShopApi.Time * 3;
        try
        {
            using var response = await api.Post(JsonSerializer.Serialize(new { query = "{ variants { nodes { code } } }" }));
            Assert.Equal(HttpStatusCode.ServiceUnavailable, response.StatusCode);
            Assert.Contains("TIMED_OUT", await response.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
        finally
        {
            api.Watch.Delay = TimeSpan.Zero;
        }
        await api.Ask("{ variants { nodes { code } } }");
    }

    [Fact]
    public async Task A_bug_shows_neither_its_text_nor_its_kind()
    {
        api.Watch.Failure = new InvalidTimeZoneException("secret of the house");
        try
        {
            using var response = await api.Post(JsonSerializer.Serialize(new { query = "{ variants { nodes { code } } }" }));
            var text = await response.Content.ReadAsStringAsync();
            Assert.Contains(ErrorMasking.InternalCode, text, StringComparison.Ordinal);
            Assert.DoesNotContain("secret", text, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("zone", text, StringComparison.OrdinalIgnoreCase);
            using var health = await api.Http.GetAsync("/health");
            Assert.NotEqual(HttpStatusCode.OK, health.StatusCode);
        }
        finally
        {
            api.Watch.Failure = null;
        }
    }

    [Fact]
    public async Task Many_questions_at_once_do_not_disturb_each_other()
    {
        var answers = await Task.WhenAll(Enumerable.Range(1, 40).Select(n => api.Ask($"{{ variant(code: \"KR-2-{n:D3}\") {{ code positions {{ part {{ number aliases {{ number }} }} }} }} }}")));
        Assert.Equal(Enumerable.Range(1, 40).Select(n => $"KR-2-{n:D3}"), answers.Select(answer => answer.GetProperty("variant").GetProperty("code").GetString()));
    }

    [Fact]
    public async Task Apostrophes_and_accents_arrive_as_they_are()
    {
        var (_, message) = await api.Refused("query($c: String!) { variant(code: $c) { code } }", new { c = "Füße" });
        using var response = await api.Post("{\"query\":\"{ variant(code: \\\"Füße\\\") { code } }\"}");
        Assert.Contains("'Füße'", await response.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Contains("'Füße'", message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_root_page_links_to_the_schema_and_health_is_ok()
    {
        Assert.Contains("href=\"/graphql/schema.graphql\"", await api.Http.GetStringAsync("/"), StringComparison.Ordinal);
        Assert.Equal("ok\n", await api.Http.GetStringAsync("/health"));
    }
}
