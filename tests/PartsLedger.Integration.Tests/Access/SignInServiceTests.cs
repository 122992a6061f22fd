using System.Net;
using PartsLedger.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>Signing in by the shop's own sign-in service, over OpenID Connect.</summary>
public sealed class SignInServiceTests : IAsyncLifetime
{
    private const string Begin = "/sign-in/service?to=%2Fwarehouse";

    private ServiceStub _stub = null!;
    private DoorShop _shop = null!;

    public async ValueTask InitializeAsync()
    {
        _stub = await ServiceStub.Start();
        _shop = await DoorShop.Open(new ServeSettings
        {
            SignInsPerMinute = 1_000, SignInService = new(_stub.Address, ServiceStub.Client, new Secret(ServiceStub.Secret), "Shop accounts"),
        });
        await _shop.Add("Robin", Role.Administrator);
        await _shop.Add("Kim", Role.Counter);
        await _shop.Act(new LinkAccount.Command(DoorShop.NewId(), "Kim", "account-1"));
    }

    [Fact]
    public async Task Whoever_is_linked_to_an_account_of_the_service_signs_in_by_it_with_their_own_roles_and_signs_out()
    {
        using var browser = _shop.Visit();
        Assert.Contains("Sign in by Shop accounts", await browser.Http.GetStringAsync("/sign-in?to=%2Fwarehouse"), StringComparison.Ordinal);
        using var arrived = await browser.Http.GetAsync(await Asked(browser));
        Assert.Equal((HttpStatusCode.OK, "0; url=/warehouse"), (arrived.StatusCode, arrived.Headers.GetValues("Refresh").Single()));
        Assert.Contains("samesite=strict", arrived.Headers.GetValues("Set-Cookie").Single(cookie => cookie.StartsWith("partsledger=C", StringComparison.Ordinal)), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("Kim", await browser.Http.GetStringAsync("/me"), StringComparison.Ordinal);
        Assert.Contains("counter", await browser.Http.GetStringAsync("/me"), StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.SeeOther, (await browser.Submit("/me", "/sign-out")).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await browser.Get("/counter")).StatusCode);
        Assert.DoesNotContain(_shop.Log, line => line.Contains(ServiceStub.Secret, StringComparison.Ordinal));
    }

    [Fact]
    public async Task An_account_is_linked_and_taken_away_on_the_person_s_page()
    {
        using var office = _shop.Visit();
        using var came = await office.SignIn("Robin", DoorShop.Password);
        using var taken = await office.Submit(PeoplePage.Of("Robin"), PeoplePage.AccountPath, ("account", "account-1"));
        var page = WebUtility.HtmlDecode(await taken.Content.ReadAsStringAsync());
        Assert.Equal(HttpStatusCode.UnprocessableEntity, taken.StatusCode);
        Assert.Contains("That account is Kim's.", page, StringComparison.Ordinal);
        Assert.Contains("value=\"account-1\"", page, StringComparison.Ordinal);

        using var away = await office.Submit(PeoplePage.Of("Kim"), PeoplePage.AccountPath, ("account", ""));
        Assert.Contains("Kim signs in by no account of the sign-in service any more.", WebUtility.HtmlDecode(await away.Content.ReadAsStringAsync()), StringComparison.Ordinal);
        using var linked = await office.Submit(PeoplePage.Of("Robin"), PeoplePage.AccountPath, ("account", "account-1"));
        Assert.Contains("Robin may sign in by the sign-in service.", WebUtility.HtmlDecode(await linked.Content.ReadAsStringAsync()), StringComparison.Ordinal);
        using var browser = _shop.Visit();
        using var arrived = await browser.Http.GetAsync(await Asked(browser));
        Assert.Contains("Robin", await browser.Http.GetStringAsync("/me"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_second_factor_is_asked_for_all_the_same()
    {
        await _shop.With(db => Microsoft.EntityFrameworkCore.RelationalDatabaseFacadeExtensions.ExecuteSqlRawAsync(
            db.Database, "update people set second_factor_key = 'JBSWY3DPEHPK3PXP', second_factor_since = 1 where name = 'Kim'"));
        using var browser = _shop.Visit();
        using var arrived = await browser.Http.GetAsync(await Asked(browser));
        Assert.Equal("0; url=/sign-in/second?to=%2Fwarehouse", arrived.Headers.GetValues("Refresh").Single());
        Assert.Equal(HttpStatusCode.Redirect, (await browser.Get("/counter")).StatusCode);
    }

    [Theory]
    [InlineData("nobody's account")]
    [InlineData("ACCOUNT-1")]
    [InlineData("left")]
    [InlineData("locked")]
    public async Task Whoever_is_nobody_here_has_left_or_is_locked_out_gets_one_answer(string account)
    {
        if (account is "left") await _shop.Act(new SetPersonActive.Command(DoorShop.NewId(), "Kim", Active: false));
        if (account is "locked")
            for (var wrong = 0; wrong < 5; wrong++)
            {
                using var other = _shop.Visit();
                await other.SignIn("Kim", "quite another thing");
            }
        _stub.Account = account is "left" or "locked" ? "account-1" : account;
        using var browser = _shop.Visit();
        using var refused = await browser.Http.GetAsync(await Asked(browser));
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        Assert.Contains("Nobody who may sign in here is known by that account.", WebUtility.HtmlDecode(await refused.Content.ReadAsStringAsync()), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Redirect, (await browser.Get("/counter")).StatusCode);
    }

    [Theory]
    [InlineData("nonce")]
    [InlineData("audience")]
    [InlineData("key")]
    [InlineData("state")]
    [InlineData("another browser's")]
    [InlineData("code")]
    [InlineData("none")]
    public async Task An_answer_that_this_browser_did_not_ask_for_or_the_service_did_not_give_opens_nothing(string wrong)
    {
        if (wrong is "nonce") _stub.OtherNonce = "another nonce";
        if (wrong is "audience") _stub.Audience = "another shop";
        if (wrong is "key") _stub.ForeignKey = true;
        using var browser = _shop.Visit();
        using var other = _shop.Visit();
        var back = (await Asked(wrong is "another browser's" ? other : browser)).ToString();
        back = wrong switch { "state" => back.Replace("state=", "state=x", StringComparison.Ordinal), "code" => back.Replace("code=", "code=x", StringComparison.Ordinal), "none" => "/sign-in/service/back", _ => back };
        using var refused = await browser.Http.GetAsync(back);
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await browser.Get("/counter")).StatusCode);
    }

    [Theory]
    [InlineData("https://elsewhere.example/")]
    [InlineData("//elsewhere.example")]
    public async Task It_goes_on_to_this_site_only(string to)
    {
        using var browser = _shop.Visit();
        using var arrived = await browser.Http.GetAsync(await Asked(browser, "/sign-in/service?to=" + Uri.EscapeDataString(to)));
        Assert.Equal("0; url=/", arrived.Headers.GetValues("Refresh").Single());
    }

    [Fact]
    public async Task An_account_is_one_persons_and_an_administrators_is_linked_by_another_administrator()
    {
        Assert.Equal("ACCOUNT_TAKEN", (await Link("Robin", Caller.CommandLine)).Refusal?.Code);
        Assert.Equal("ADMINISTRATOR_NEEDED", (await Link("Robin", new Caller("Sam", Role.Supervisor))).Refusal?.Code);
        Assert.Equal("NOT_ALLOWED", (await Link("Kim", new Caller("Kim", Role.Counter))).Refusal?.Code);
        Task<PartsLedger.Domain.Outcomes.Outcome<PersonActed>> Link(string name, Caller by) => _shop.Dispatcher.Send<LinkAccount.Command, PersonActed>(
            new(DoorShop.NewId(), name, "account-1"), by, CancellationToken.None);
    }

    [Theory]
    [InlineData(ServeSettings.ServiceAddressName, "http://accounts.example", "PARTSLEDGER_OPENID cannot be 'http://accounts.example'. Give the sign-in service's https address.")]
    [InlineData(ServeSettings.ServiceClientName, null, "PARTSLEDGER_OPENID_CLIENT cannot be ''. Give what this program is called at the sign-in service.")]
    [InlineData(ServeSettings.ServiceSecretName, null, "PARTSLEDGER_OPENID_SECRET cannot be ''. Give the secret, or name its file by PARTSLEDGER_OPENID_SECRET_FILE.")]
    public void A_service_that_is_half_configured_is_refused_in_a_sentence(string name, string? text, string sentence) =>
        Assert.Equal(sentence, ServeSettings.Read(asked => asked == name ? text : asked switch
        {
            ServeSettings.ServiceAddressName => "https://accounts.example", ServeSettings.ServiceClientName => "shop", ServeSettings.ServiceSecretName => "x", _ => null,
        }).Refusal?.ToString());

    /// <summary>Begins, lets the service answer, and tells where the browser is sent back to.</summary>
    private async Task<Uri> Asked(Browser browser, string begin = Begin)
    {
        using var sent = await browser.Get(begin);
        Assert.Equal(HttpStatusCode.Redirect, sent.StatusCode);
        Assert.StartsWith(_stub.Address.ToString(), sent.Headers.Location!.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain(ServiceStub.Secret, sent.Headers.Location.ToString(), StringComparison.Ordinal);
        using var handler = new SocketsHttpHandler { AllowAutoRedirect = false };
        using var http = new HttpClient(handler);
        using var answered = await http.GetAsync(sent.Headers.Location);
        return answered.Headers.Location!;
    }

    public async ValueTask DisposeAsync()
    {
        await _shop.DisposeAsync();
        await _stub.DisposeAsync();
    }
}
