using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>What stands around every answer, and how the program is served by configuration.</summary>
public sealed partial class ShieldTests
{
    private const string Small = "{ variants(first: 1) { nodes { code } } }";

    private static readonly ServeSettings BehindProxy = new() { Https = true, Proxies = [IPNetwork.Parse("127.0.0.0/8")] };

    [Fact]
    public async Task Every_answer_says_what_browsers_must_not_do_with_it()
    {
        await using var shop = await DoorShop.Open();
        await shop.Add("Kim", Role.Counter);
        using var browser = shop.Visit();
        await Check("/", "/graphql", "/nothing", "/sign-in", "/health", "/shop.css", "/jobs/J-1.xlsx");
        await browser.SignIn("Kim", DoorShop.Password);
        await Check("/", "/graphql?query=x", "/nothing", "/counter", "/jobs/J-1.xlsx", "/plots/sizes.svg?family=A", "/graphql/schema.graphql", "/health/ledger");
        using var form = await browser.Http.PostAsync("/me/password", new FormUrlEncodedContent([]));
        Headers("a form of another site", form);

        async Task Check(params string[] addresses)
        {
            foreach (var address in addresses)
            {
                using var answer = await browser.Get(address);
                Headers(address, answer);
            }
        }

        static void Headers(string address, HttpResponseMessage answer)
        {
            string One(string name) => answer.Headers.TryGetValues(name, out var values) ? Assert.Single(values) : $"{address} has no {name}";
            Assert.Equal("nosniff", One("X-Content-Type-Options"));
            Assert.Equal("same-origin", One("Referrer-Policy"));
            Assert.Equal("same-origin", One("Cross-Origin-Opener-Policy"));
            Assert.Equal("same-origin", One("Cross-Origin-Resource-Policy"));
            Assert.Contains("camera=()", One("Permissions-Policy"), StringComparison.Ordinal);
            Assert.Matches("^default-src 'none';.*frame-ancestors 'none'", One("Content-Security-Policy"));
            Assert.DoesNotContain("unsafe", One("Content-Security-Policy"), StringComparison.Ordinal);
            Assert.Matches("no-store|no-cache", One("Cache-Control"));
            Assert.False(answer.Headers.Contains("Server"));
        }
    }

    [Theory]
    [InlineData("/counter?q=10-0001")]
    [InlineData("/jobs/J-1.xlsx")]
    public async Task A_bug_is_answered_with_a_reference_that_leads_to_the_log_and_nothing_else(string address)
    {
        await using var shop = await DoorShop.Open();
        using var browser = shop.Visit();
        await shop.With(db => db.Database.ExecuteSqlRawAsync("pragma foreign_keys = off; drop table stock_balances; drop table aliases; drop table jobs"));
        using var answer = await browser.Get(address);
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.InternalServerError, answer.StatusCode);
        Assert.DoesNotContain("no such table", text, StringComparison.Ordinal);
        var reference = Reference().Match(text).Groups[1].Value;
        Assert.Contains(shop.Log, line => line.Contains($"reference {reference}", StringComparison.Ordinal) && line.Contains("no such table", StringComparison.Ordinal));
        Assert.DoesNotContain(shop.Log, line => line.Contains("failed; reference", StringComparison.Ordinal) && line.Contains("q=10-0001", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("/office/order")]
    [InlineData("/jobs/J-1.xlsx")]
    [InlineData("/counter?q=10-0001")]
    public async Task A_page_or_download_that_takes_too_long_is_given_up_with_a_sentence(string address)
    {
        await using var shop = await DoorShop.Open(new ServeSettings { AnswerSeconds = 2 });
        await shop.Add("Robin", Role.Administrator);
        using var browser = shop.Visit();
        await browser.SignIn("Robin", DoorShop.Password);
        shop.Watch.Delay = TimeSpan.FromMinutes(5);
        using var answer = await browser.Get(address);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.Contains("The answer was not found in time.", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        shop.Watch.Delay = TimeSpan.Zero;
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/counter")).StatusCode);
    }

    [Fact]
    public async Task Signing_out_ends_a_session_whose_cookie_was_copied()
    {
        await using var shop = await DoorShop.Open();
        await shop.Add("Kim", Role.Counter);
        using var browser = shop.Visit();
        using var thief = shop.Visit();
        await browser.SignIn("Kim", DoorShop.Password);
        foreach (Cookie cookie in browser.Cookies.GetCookies(browser.Http.BaseAddress!)) thief.Cookies.Add(thief.Http.BaseAddress!, new Cookie(cookie.Name, cookie.Value));
        Assert.Equal(HttpStatusCode.OK, (await thief.Get("/counter")).StatusCode);
        await browser.Submit("/me", "/sign-out");
        Assert.Equal(HttpStatusCode.Redirect, (await thief.Get("/counter")).StatusCode);
    }

    [Fact]
    public async Task More_tries_than_were_chosen_are_turned_away_with_when_to_come_again()
    {
        await using var shop = await DoorShop.Open(new ServeSettings { SignInsPerMinute = 3 });
        await shop.Add("Kim", Role.Counter);
        using var browser = shop.Visit();
        for (var wrong = 0; wrong < 3; wrong++) Assert.Equal(HttpStatusCode.UnprocessableEntity, (await browser.SignIn($"Nobody {wrong}", "wrong")).StatusCode);
        using var turnedAway = await browser.SignIn("Kim", DoorShop.Password);
        Assert.Equal(HttpStatusCode.TooManyRequests, turnedAway.StatusCode);
        Assert.InRange(turnedAway.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
        Assert.Contains("Too many tries", await turnedAway.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/sign-in")).StatusCode);
    }

    [Fact]
    public async Task Behind_a_named_proxy_only_https_is_served_and_nobody_counts_as_at_this_machine()
    {
        await using var shop = await DoorShop.Open(BehindProxy);
        using var browser = shop.Visit();
        using var plain = await browser.Get("/sign-in?to=%2Fcounter");
        Assert.Equal((HttpStatusCode.PermanentRedirect, "https://127.0.0.1/sign-in?to=%2Fcounter"), (plain.StatusCode, plain.Headers.Location?.ToString()));
        var (refused, why) = await browser.Ask(Small);
        Assert.Equal((HttpStatusCode.Forbidden, "HTTPS_NEEDED"), (refused, Browser.Code(why)));
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/health")).StatusCode);

        browser.Http.DefaultRequestHeaders.Add("X-Forwarded-Proto", "https");
        var (closed, answer) = await browser.Ask(Small);
        Assert.Equal((HttpStatusCode.Forbidden, "NOT_SET_UP"), (closed, Browser.Code(answer)));
        await shop.Add("Kim", Role.Counter);
        browser.Http.DefaultRequestHeaders.Add("X-Forwarded-For", "203.0.113.9");
        // What is secure this plain client does not send back by itself, as a browser would not.
        using var page = await browser.Get("/sign-in");
        var form = page.Headers.GetValues("Set-Cookie").Single();
        Assert.Contains("; secure", form, StringComparison.OrdinalIgnoreCase);
        browser.Http.DefaultRequestHeaders.Add("Cookie", form.Split(';')[0]);
        using var signedIn = await browser.SignIn("Kim", DoorShop.Password);
        Assert.All(signedIn.Headers.GetValues("Set-Cookie").Where(cookie => !cookie.Contains("=;", StringComparison.Ordinal)),
            cookie => Assert.Contains("; secure", cookie, StringComparison.OrdinalIgnoreCase));
        Assert.StartsWith("max-age=31536000", signedIn.Headers.GetValues("Strict-Transport-Security").Single(), StringComparison.Ordinal);
        Assert.Equal("203.0.113.9", await shop.With(db => db.AuditEntries.Where(row => row.What == "SignInByPassword").Select(row => row.Address).SingleAsync()));
    }

    [Fact]
    public async Task What_a_proxy_that_was_not_named_says_is_not_believed()
    {
        await using var shop = await DoorShop.Open();
        await shop.Add("Kim", Role.Counter);
        using var browser = shop.Visit();
        browser.Http.DefaultRequestHeaders.Add("X-Forwarded-For", "203.0.113.9");
        await browser.SignIn("Kim", DoorShop.Password);
        Assert.Equal("127.0.0.1", await shop.With(db => db.AuditEntries.Where(row => row.What == "SignInByPassword").Select(row => row.Address).SingleAsync()));
    }

    [Theory]
    [InlineData(SchemaTold.ToPeople, true, false)]
    [InlineData(SchemaTold.ToCallers, true, true)]
    [InlineData(SchemaTold.ToNobody, false, false)]
    public async Task What_can_be_asked_is_told_to_those_to_whom_that_was_chosen(SchemaTold told, bool toPeople, bool toPrograms)
    {
        await using var shop = await DoorShop.Open(new ServeSettings { Schema = told });
        await shop.Add("Kim", Role.Reader);
        using var browser = shop.Visit();
        using var program = shop.Visit();
        await browser.SignIn("Kim", DoorShop.Password);
        browser.Http.DefaultRequestHeaders.Add(GraphQlEndpoint.CustomHeader, "1");
        program.Http.DefaultRequestHeaders.Add("Authorization", $"Bearer {await shop.Token("scale", 5, Role.Reader)}");

        // The person first: a document that is known from somebody else is told to nobody more.
        foreach (var (visitor, may) in ((Browser, bool)[])[(browser, toPeople), (program, toPrograms), (program, toPrograms)])
        {
            foreach (var query in (string[])["{ __schema { queryType { name } } }", "{ __type(name: \"Part\") { name } }"])
            {
                var answer = (await visitor.Ask(query)).Answer;
                Assert.Equal(may ? null : "SCHEMA_NOT_TOLD", answer.TryGetProperty("errors", out _) ? Browser.Code(answer) : null);
            }
            Assert.Equal(may ? HttpStatusCode.OK : HttpStatusCode.NotFound, (await visitor.Get("/graphql/schema.graphql")).StatusCode);
            Assert.False((await visitor.Ask("{ __typename }")).Answer.TryGetProperty("errors", out _));
        }
    }

    [Theory]
    [InlineData(ServeSettings.HttpsName, "perhaps", "PARTSLEDGER_HTTPS cannot be 'perhaps'. Give yes or no, or leave it out.")]
    [InlineData(ServeSettings.IntrospectionName, "all", "PARTSLEDGER_INTROSPECTION cannot be 'all'. Give people, yes or no, or leave it out.")]
    [InlineData(ServeSettings.LogName, "xml", "PARTSLEDGER_LOG cannot be 'xml'. Give json or text, or leave it out.")]
    [InlineData(ServeSettings.SignInsName, "0", "PARTSLEDGER_SIGN_INS_PER_MINUTE cannot be '0'. Give a whole number from 1 to 10000.")]
    [InlineData(ServeSettings.ProxiesName, "10.0.0.5, proxy", "PARTSLEDGER_PROXIES cannot be 'proxy'. Give the proxies' addresses or networks with commas between: 10.0.0.5, 10.1.0.0/16.")]
    public void A_setting_that_is_written_wrongly_is_refused_in_a_sentence(string name, string text, string sentence) =>
        Assert.Equal(sentence, ServeSettings.Read(asked => asked == name ? text : null).Refusal?.ToString());

    [Fact]
    public void Settings_are_read_as_they_are_written_and_have_their_usual_values_else()
    {
        var read = ServeSettings.Read(name => name switch
        {
            ServeSettings.HttpsName => "Yes", ServeSettings.ProxiesName => "10.0.0.5, 10.1.0.0/16,::1", ServeSettings.SignInsName => "7", ServeSettings.LogName => "json", _ => " ",
        }).Result;
        Assert.Equal((true, SchemaTold.ToPeople, true, 7), (read.Https, read.Schema, read.JsonLog, read.SignInsPerMinute));
        Assert.Equal(["10.0.0.5/32", "10.1.0.0/16", "::1/128"], read.Proxies.Select(proxy => proxy.ToString()));
        Assert.False(ServeSettings.Read(_ => null).Result.Https);
    }

    [GeneratedRegex("Reference ([0-9a-f]{10})\\.")]
    private static partial Regex Reference();
}
