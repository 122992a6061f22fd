using System.Net;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>The closed door, as browsers and programs meet it.</summary>
public sealed class DoorTests : IAsyncLifetime
{
    private const string Small = "{ variants(first: 1) { nodes { code } } }";

    private DoorShop? _shop;

    private DoorShop Shop => _shop!;

    public async ValueTask InitializeAsync() => _shop = await DoorShop.Open();

    public ValueTask DisposeAsync() => Shop.DisposeAsync();

    [Theory]
    [InlineData("X-Forwarded-For", "203.0.113.9")]
    [InlineData("Forwarded", "for=203.0.113.9")]
    [InlineData("X-Real-IP", "203.0.113.9")]
    [InlineData("Host", "shop.example")]
    public async Task Until_it_is_set_up_a_shop_answers_at_its_own_machine_only(string header, string value)
    {
        using var here = Shop.Visit();
        Assert.Equal(HttpStatusCode.OK, (await here.Ask(Small)).Status);
        var (status, answer) = await here.Ask(Small, (header, value));
        Assert.Equal((HttpStatusCode.Forbidden, "NOT_SET_UP"), (status, Browser.Code(answer)));
    }

    [Fact]
    public async Task The_set_up_link_is_good_once_and_closes_the_door()
    {
        using var browser = Shop.Visit();
        var link = await OfferSetUp();
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await browser.Submit(link, "/set-up", ("name", "Robin"), ("password", "short"), ("again", "short"))).StatusCode);
        using var done = await browser.Submit(link, "/set-up", ("name", "Robin"), ("password", DoorShop.Password), ("again", DoorShop.Password));
        Assert.Equal((HttpStatusCode.SeeOther, "/sign-in?note=set-up"), (done.StatusCode, done.Headers.Location?.ToString()));

        using var again = await browser.Submit(link, "/set-up", ("name", "Mallory"), ("password", DoorShop.Password), ("again", DoorShop.Password));
        Assert.Contains("The shop has people already.", await again.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        var (status, answer) = await browser.Ask(Small);
        Assert.Equal((HttpStatusCode.Unauthorized, "NOT_SIGNED_IN"), (status, Browser.Code(answer)));
        using var home = await browser.Get("/counter?q=1");
        Assert.Equal((HttpStatusCode.Redirect, "/sign-in?to=%2Fcounter%3Fq%3D1"), (home.StatusCode, home.Headers.Location?.ToString()));
        foreach (var download in (string[])["/jobs/J-1.xlsx", "/plots/sizes.svg?family=A", "/graphql/schema.graphql", "/health/ledger", "/nothing"])
            Assert.NotEqual(HttpStatusCode.OK, (await browser.Get(download)).StatusCode);
        foreach (var open in (string[])["/health", "/shop.css", "/shop.js", "/sign-in", "/sign-in/badge"]) Assert.Equal(HttpStatusCode.OK, (await browser.Get(open)).StatusCode);
    }

    [Fact]
    public async Task Of_two_who_set_up_at_once_one_does()
    {
        string[] links = [await OfferSetUp(), await OfferSetUp()];
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 6).Select(at => Shop.Dispatcher.Send<SetUpShop.Command, PersonActed>(
            new(DoorShop.NewId(), new Secret(links[at % 2][(links[at % 2].IndexOf('=', StringComparison.Ordinal) + 1)..]), $"Person {at}", new Secret(DoorShop.Password)),
            new Caller("nobody"), CancellationToken.None)));
        Assert.Single(outcomes, outcome => outcome.Succeeded);
        Assert.Equal(1, await Shop.With(db => db.People.CountAsync()));
    }

    [Fact]
    public async Task A_set_up_link_is_good_for_an_hour()
    {
        using var browser = Shop.Visit();
        var link = await OfferSetUp();
        await Shop.With(db => db.Database.ExecuteSqlRawAsync("update one_time_links set made_at = made_at - 3600000001, expires_at = expires_at - 3600000001"));
        using var late = await browser.Submit(link, "/set-up", ("name", "Robin"), ("password", DoorShop.Password), ("again", DoorShop.Password));
        Assert.Contains("older than an hour", await late.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Signing_in_begins_a_session_in_a_cookie_no_script_reads_and_signing_out_ends_it()
    {
        await Shop.Add("Kim", Role.Counter);
        using var browser = Shop.Visit();
        using var signedIn = await browser.SignIn("kim", DoorShop.Password, "/warehouse?scan=1");
        Assert.Equal((HttpStatusCode.SeeOther, "/warehouse?scan=1"), (signedIn.StatusCode, signedIn.Headers.Location?.ToString()));
        var cookie = signedIn.Headers.GetValues("Set-Cookie").Single(one => one.StartsWith("partsledger=", StringComparison.Ordinal));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Kim", await browser.Http.GetStringAsync("/counter"), StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.SeeOther, (await browser.Submit("/me", "/sign-out")).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await browser.Get("/counter")).StatusCode);
    }

    [Fact]
    public async Task A_session_planted_before_signing_in_is_not_the_session_after_it()
    {
        await Shop.Add("Kim", Role.Counter);
        using var victim = Shop.Visit();
        using var thief = Shop.Visit();
        foreach (var browser in (Browser[])[victim, thief]) browser.Cookies.Add(browser.Http.BaseAddress!, new Cookie("partsledger", "planted"));
        await victim.SignIn("Kim", DoorShop.Password);
        Assert.Equal(HttpStatusCode.OK, (await victim.Get("/counter")).StatusCode);
        Assert.NotEqual("planted", victim.Cookies.GetCookies(victim.Http.BaseAddress!)["partsledger"]!.Value);
        Assert.Equal(HttpStatusCode.Redirect, (await thief.Get("/counter")).StatusCode);
    }

    [Fact]
    public async Task A_form_that_this_site_did_not_make_for_this_browser_does_nothing()
    {
        await Shop.Add("Kim", Role.Counter);
        using var browser = Shop.Visit();
        using var bare = await browser.Http.PostAsync("/sign-in", new FormUrlEncodedContent([new("name", "Kim"), new("password", DoorShop.Password)]));
        Assert.Equal(HttpStatusCode.BadRequest, bare.StatusCode);

        // Another browser's token, and one made before somebody else signed in here.
        using var other = Shop.Visit();
        var page = await other.Http.GetStringAsync("/sign-in");
        var token = page.Split("name=\"form\" value=\"")[1].Split('"')[0];
        using var borrowed = await browser.Submit("/sign-in", "/sign-in", ("name", "Kim"), ("password", DoorShop.Password), ("form", token));
        Assert.Equal(HttpStatusCode.BadRequest, borrowed.StatusCode);
        await other.SignIn("Kim", DoorShop.Password);
        using var stale = await other.Submit("/me", "/me/password", ("form", token), ("current", DoorShop.Password), ("next", "another long password"));
        Assert.Equal(HttpStatusCode.BadRequest, stale.StatusCode);
    }

    [Theory]
    [InlineData("https://elsewhere.example/")]
    [InlineData("//elsewhere.example")]
    [InlineData("/\\elsewhere.example")]
    [InlineData("\\\\elsewhere.example")]
    [InlineData("javascript:alert(1)")]
    [InlineData("/x\r\nSet-Cookie: a=b")]
    [InlineData("counter")]
    [InlineData("/\t/elsewhere.example")]
    public async Task Signing_in_goes_on_to_this_site_only(string to)
    {
        await Shop.Add("Kim", Role.Counter);
        using var browser = Shop.Visit();
        using var signedIn = await browser.Submit("/sign-in", "/sign-in", ("name", "Kim"), ("password", DoorShop.Password), ("to", to));
        Assert.Equal("/", signedIn.Headers.Location?.ToString());
    }

    [Fact]
    public async Task A_browsers_session_asks_the_API_only_with_the_header_that_no_other_site_can_send()
    {
        await Shop.Add("Kim", Role.Reader);
        using var browser = Shop.Visit();
        await browser.SignIn("Kim", DoorShop.Password);
        var (status, answer) = await browser.Ask(Small);
        Assert.Equal((HttpStatusCode.Forbidden, "CROSS_SITE"), (status, Browser.Code(answer)));
        Assert.Equal(HttpStatusCode.OK, (await browser.Ask(Small, (GraphQlEndpoint.CustomHeader, "1"))).Status);
    }

    [Fact]
    public async Task Whoever_leaves_or_gets_another_password_is_signed_out_everywhere_and_roles_count_at_once()
    {
        await Shop.Add("Robin", Role.Administrator);
        await Shop.Add("Kim", Role.Counter);
        using var browser = Shop.Visit();
        await browser.SignIn("Kim", DoorShop.Password);
        const string people = "{ people { nodes { name } } }";
        Assert.Equal("NOT_ALLOWED", Browser.Code((await browser.Ask(people, (GraphQlEndpoint.CustomHeader, "1"))).Answer));
        await Shop.Act(new ChangeRoles.Command(DoorShop.NewId(), "Kim", [Role.Supervisor]));
        Assert.False((await browser.Ask(people, (GraphQlEndpoint.CustomHeader, "1"))).Answer.TryGetProperty("errors", out _));

        await Shop.Act(new ResetPassword.Command(DoorShop.NewId(), "Kim"));
        Assert.Equal(HttpStatusCode.Redirect, (await browser.Get("/counter")).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await browser.SignIn("Kim", DoorShop.Password)).StatusCode);
    }

    [Fact]
    public async Task Known_and_unknown_names_get_the_same_answer_for_the_same_work()
    {
        await Shop.Add("Kim", Role.Counter);
        await Shop.Act(new AddPerson.Command(DoorShop.NewId(), "Without Password", [Role.Reader]));
        await Shop.Add("Gone", Role.Reader);
        await Shop.Add("Robin", Role.Administrator);
        await Shop.Act(new SetPersonActive.Command(DoorShop.NewId(), "Gone", Active: false));
        var answers = new HashSet<string>();
        foreach (var name in (string[])["Kim", "Nobody Here", "Without Password", "Gone", "Kim", "Kim", "Kim", "Kim", "Kim"])
        {
            using var browser = Shop.Visit();
            var before = Shop.Hasher.Compared;
            using var refused = await browser.SignIn(name, "quite another thing");
            Assert.Equal(1, Shop.Hasher.Compared - before);
            var page = (await refused.Content.ReadAsStringAsync()).Replace($"value=\"{name}\"", "", StringComparison.Ordinal);
            answers.Add($"{(int)refused.StatusCode} " + System.Text.RegularExpressions.Regex.Replace(page, "<input type=\"hidden\"[^>]*>", ""));
        }
        Assert.Single(answers);
    }

    [Fact]
    public async Task Copies_of_the_program_over_one_database_share_their_sessions()
    {
        await Shop.Add("Kim", Role.Counter);
        using var browser = Shop.Visit();
        await browser.SignIn("Kim", DoorShop.Password);
        using var elsewhere = new Browser(await Shop.AnotherCopy());
        foreach (Cookie cookie in browser.Cookies.GetCookies(browser.Http.BaseAddress!)) elsewhere.Cookies.Add(elsewhere.Http.BaseAddress!, new Cookie(cookie.Name, cookie.Value));
        Assert.Equal(HttpStatusCode.OK, (await elsewhere.Get("/counter")).StatusCode);
    }

    [Fact]
    public async Task Nothing_secret_is_logged_or_kept_as_it_was_typed()
    {
        var link = await OfferSetUp();
        using var browser = Shop.Visit();
        await browser.Submit(link, "/set-up", ("name", "Robin"), ("password", DoorShop.Password), ("again", DoorShop.Password));
        await browser.SignIn("Robin", "a wrong secret word");
        await browser.SignIn("a secret in the wrong field", "x");
        await browser.SignIn("Robin", DoorShop.Password);
        await Shop.Add("Sam", Role.Rebuilder);
        await Shop.Act(new GiveBadge.Command(DoorShop.NewId(), "Sam", new Secret("BADGE-8842-77"), new Secret("90817263")));
        var token = await Shop.Token("scale", 5, Role.Reader);
        using var program = Shop.Visit();
        Assert.Equal(HttpStatusCode.OK, (await program.Ask(Small, ("Authorization", $"Bearer {token}"))).Status);

        var code = link[(link.IndexOf('=', StringComparison.Ordinal) + 1)..];
        var (log, disk) = (string.Join('\n', Shop.Log), Shop.Disk());
        Assert.Contains("sign_in_tries", log, StringComparison.Ordinal);
        foreach (var secret in (string[])[DoorShop.Password, "a wrong secret word", "a secret in the wrong field", "BADGE-8842-77", "90817263", token, code])
        {
            Assert.DoesNotContain(secret, disk, StringComparison.Ordinal);
            if (secret != code) Assert.DoesNotContain(secret, log, StringComparison.Ordinal);
        }
    }

    private async Task<string> OfferSetUp() => (await Shop.Dispatcher.Send<OfferSetUp.Command, OfferSetUp.Answer>(
        new(DoorShop.NewId()), Caller.CommandLine, CancellationToken.None)).Result.Link!.Reveal();
}
