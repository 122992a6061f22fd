using System.Net;
using System.Text.RegularExpressions;
using PartsLedger.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>The office's pages of people, tokens, the audit and the API as a browser without scripts uses them.</summary>
public sealed partial class AccessOfficePageTests : IAsyncLifetime
{
    private DoorShop? _shop;

    private DoorShop Shop => _shop ?? throw new InvalidOperationException("The shop is not open.");

    public async ValueTask InitializeAsync()
    {
        _shop = await DoorShop.Open();
        await _shop.Add("Kim", Role.Administrator);
        await _shop.Add("Sam", Role.Supervisor);
        await _shop.Add("Ada", Role.Counter);
    }

    public async ValueTask DisposeAsync()
    {
        if (_shop is not null) await _shop.DisposeAsync();
    }

    [Fact]
    public async Task Somebody_new_gets_an_address_that_is_shown_once_and_chooses_a_password_by_it()
    {
        using var office = await SignedIn("Kim");
        var form = await office.Fill(PeoplePage.Path, PeoplePage.Path, ("name", "Lou"), ("role", "warehouse"));
        using var added = await office.Http.PostAsync(PeoplePage.Path, new FormUrlEncodedContent(form));
        var page = await Read(added);
        Assert.Equal(HttpStatusCode.OK, added.StatusCode);
        Assert.Contains("Lou is added as warehouse.", page, StringComparison.Ordinal);
        var link = Address().Match(page).Value;
        Assert.StartsWith(Shop.App.Urls.First(), link, StringComparison.Ordinal);

        // Reloading sends the same form again: nothing is done twice, and nobody else can read the address off the screen later.
        using var again = await office.Http.PostAsync(PeoplePage.Path, new FormUrlEncodedContent(form));
        Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        Assert.Empty(Address().Matches(await Read(again)));

        using var lou = Shop.Visit();
        using var chosen = await lou.Submit(new Uri(link).PathAndQuery, "/new-password", ("password", DoorShop.Password));
        Assert.Equal(HttpStatusCode.SeeOther, chosen.StatusCode);
        using var came = await lou.SignIn("Lou", DoorShop.Password);
        Assert.Equal(HttpStatusCode.SeeOther, came.StatusCode);
        Assert.Contains(">Lou</a>", await office.Http.GetStringAsync(PeoplePage.Path), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_person_s_page_has_what_the_asker_may_do_and_what_is_refused_stays_as_it_was_filled_in()
    {
        using var office = await SignedIn("Kim");
        using var badge = await office.Submit(PeoplePage.Of("Ada"), PeoplePage.BadgePath, ("name", "Ada"), ("badge", "badge-000-1"), ("pin", "2580"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, badge.StatusCode);
        var page = await Read(badge);
        Assert.Contains("Ada has more than the warehouse's and the bench's roles.", page, StringComparison.Ordinal);
        Assert.DoesNotContain("badge-000-1", page, StringComparison.Ordinal);

        using var roles = await office.Submit(PeoplePage.Of("Ada"), PeoplePage.RolesPath, ("role", "rebuilder"));
        Assert.Contains("Ada is now: rebuilder.", await Read(roles), StringComparison.Ordinal);
        using var given = await office.Submit(PeoplePage.Of("Ada"), PeoplePage.BadgePath, ("badge", "badge-000-1"), ("pin", "2580"));
        Assert.Contains("Ada signs in at a bench by badge and PIN.", await Read(given), StringComparison.Ordinal);
        using var bench = Shop.Visit();
        using var scanned = await bench.Submit("/sign-in/badge?to=%2Fbench", "/sign-in/badge", ("badge", "badge-000-1"), ("pin", "2580"));
        Assert.Equal((HttpStatusCode.SeeOther, "/bench"), (scanned.StatusCode, scanned.Headers.Location!.ToString()));
        using var left = await office.Submit(PeoplePage.Of("Ada"), PeoplePage.ActivePath);
        Assert.Contains("Has left.", await Read(left), StringComparison.Ordinal);
        using var gone = await bench.Get("/bench");
        Assert.Equal(HttpStatusCode.Found, gone.StatusCode);

        // Nobody would be left to look after the program: the box that was ticked is ticked still.
        using var last = await office.Submit(PeoplePage.Of("Kim"), PeoplePage.RolesPath, ("role", "reader"));
        page = await Read(last);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, last.StatusCode);
        Assert.Contains("Kim is the last administrator.", page, StringComparison.Ordinal);
        Assert.Matches("value=\"reader\" checked", page);
        Assert.DoesNotMatch("value=\"administrator\" checked", page);

        using var supervisor = await SignedIn("Sam");
        page = await Read(await supervisor.Get(PeoplePage.Of("Ada")));
        Assert.Contains(PeoplePage.ResetPath, page, StringComparison.Ordinal);
        Assert.DoesNotContain(PeoplePage.RolesPath, page, StringComparison.Ordinal);
        using var reset = await supervisor.Submit(PeoplePage.Of("Ada"), PeoplePage.ResetPath);
        Assert.Single(Address().Matches(await Read(reset)));
        Assert.Contains("Nobody here is called 'Nemo'.", await Read(await supervisor.Get(PeoplePage.Of("Nemo"))), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_token_is_shown_once_opens_the_api_and_is_good_no_longer_once_it_is_revoked()
    {
        using var office = await SignedIn("Kim");
        using var wrong = await office.Submit(TokensPage.Path, TokensPage.Path, ("name", "scale"), ("days", "soon"), ("role", "warehouse"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
        var page = await Read(wrong);
        Assert.Contains("'soon' is no number of days.", page, StringComparison.Ordinal);
        Assert.Contains("value=\"scale\"", page, StringComparison.Ordinal);
        Assert.Matches("value=\"warehouse\" checked", page);

        using var made = await office.Submit(TokensPage.Path, TokensPage.Path, ("name", "scale"), ("days", "30"), ("role", "warehouse"));
        var token = Token().Match(await Read(made)).Value;
        Assert.NotEmpty(token);
        Assert.DoesNotContain(token, await office.Http.GetStringAsync(TokensPage.Path), StringComparison.Ordinal);
        using var scale = Shop.Visit();
        var (status, answer) = await scale.Ask("{ toOrder { short { nodes { part } } } }", ("Authorization", "Bearer " + token));
        Assert.True(status == HttpStatusCode.OK && answer.TryGetProperty("data", out _), answer.ToString());

        using var revoked = await office.Submit(TokensPage.Path, TokensPage.RevokePath, ("which", "scale"));
        Assert.Equal(HttpStatusCode.SeeOther, revoked.StatusCode);
        (_, answer) = await scale.Ask("{ __typename }", ("Authorization", "Bearer " + token));
        Assert.Equal("BAD_TOKEN", Browser.Code(answer));
        page = await office.Http.GetStringAsync(TokensPage.Path);
        Assert.Contains("revoked ", page, StringComparison.Ordinal);
        Assert.DoesNotContain(TokensPage.RevokePath, page, StringComparison.Ordinal);

        using var clerk = await SignedIn("Ada");
        Assert.Contains("Find tokens is for: administrator.", await Read(await clerk.Get(TokensPage.Path)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_audit_is_searched_by_who_what_and_when()
    {
        using var office = await SignedIn("Kim");
        using (var clerk = await SignedIn("Ada")) await clerk.Get(PeoplePage.Path);
        var all = await Read(await office.Get(AuditPage.Path));
        Assert.Contains("<td>Add person</td>", all, StringComparison.Ordinal);
        var refused = await Read(await office.Get($"{AuditPage.Path}?kind=refused&who=Ada"));
        Assert.Contains("▲ refused: Find people, NOT_ALLOWED", refused, StringComparison.Ordinal);
        Assert.DoesNotContain("<td>Add person</td>", refused, StringComparison.Ordinal);
        Assert.Contains("Nothing of that kind is written down.", await Read(await office.Get($"{AuditPage.Path}?until=2001-01-01")), StringComparison.Ordinal);
        var wrong = await Read(await office.Get($"{AuditPage.Path}?since=yesterday&who=Ada"));
        Assert.Contains("One of the days cannot be read.", wrong, StringComparison.Ordinal);
        Assert.Contains("value=\"Ada\"", wrong, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_api_can_be_read_about_and_tried_in_the_asker_s_own_name()
    {
        using var browser = await SignedIn("Ada");
        var page = await browser.Http.GetStringAsync(ExplorerPage.Path);
        var examples = Example().Matches(page).Select(match => WebUtility.HtmlDecode(match.Groups[1].Value)).ToList();
        Assert.Equal(3, examples.Count);
        foreach (var example in examples)
        {
            var question = Question().Match(WebUtility.HtmlDecode(await browser.Http.GetStringAsync(example))).Groups[1].Value;
            using var answered = await browser.Submit(ExplorerPage.Path, ExplorerPage.Path, ("question", question));
            Assert.Equal(HttpStatusCode.OK, answered.StatusCode);
            // A document that is no question of this schema has no data, not even none.
            Assert.Contains("\"data\": ", await Read(answered), StringComparison.Ordinal);
        }
        using var refused = await browser.Submit(ExplorerPage.Path, ExplorerPage.Path, ("question", "{ people { nodes { name } } }"));
        Assert.Contains("NOT_ALLOWED", await Read(refused), StringComparison.Ordinal);
        using var broken = await browser.Submit(ExplorerPage.Path, ExplorerPage.Path, ("question", "{ __typename }"), ("variables", "{ten}"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, broken.StatusCode);
        page = await Read(broken);
        Assert.Contains("'variables' is not JSON.", page, StringComparison.Ordinal);
        Assert.Contains("{ten}</textarea>", page, StringComparison.Ordinal);
        Assert.Contains("piecesShort", await Read(await browser.Get($"{ExplorerPage.Path}?type=KitAnswer")), StringComparison.Ordinal);
        using var nobody = Shop.Visit();
        Assert.Equal(HttpStatusCode.Found, (await nobody.Get(ExplorerPage.Path)).StatusCode);
    }

    [Fact]
    public async Task A_shop_that_chooses_so_has_no_such_page()
    {
        await using var shop = await DoorShop.Open(new ServeSettings { Schema = SchemaTold.ToNobody });
        await shop.Add("Kim", Role.Administrator);
        using var browser = shop.Visit();
        using var came = await browser.SignIn("Kim", DoorShop.Password);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get(ExplorerPage.Path)).StatusCode);
        Assert.DoesNotContain(ExplorerPage.Path, await browser.Http.GetStringAsync("/office"), StringComparison.Ordinal);
    }

    private async Task<Browser> SignedIn(string name)
    {
        var browser = Shop.Visit();
        using var came = await browser.SignIn(name, DoorShop.Password);
        Assert.Equal(HttpStatusCode.SeeOther, came.StatusCode);
        return browser;
    }

    private static async Task<string> Read(HttpResponseMessage answer) => WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());

    [GeneratedRegex("http://[^<]*/new-password\\?code=[^<]+")]
    private static partial Regex Address();

    [GeneratedRegex("pl_[A-Za-z0-9_-]{43}")]
    private static partial Regex Token();

    [GeneratedRegex("href=\"(/office/explorer\\?question=[^\"]*)\"")]
    private static partial Regex Example();

    [GeneratedRegex("<textarea id=\"question\"[^>]*>([^<]*)</textarea>")]
    private static partial Regex Question();
}
