using System.Net;
using System.Text.RegularExpressions;
using PartsLedger.Access;
using PartsLedger.Domain.Access;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>The pages at the door beside the password's: badge and PIN, and the second factor.</summary>
public sealed partial class DoorPageTests
{
    [Fact]
    public async Task A_badge_and_its_PIN_open_the_bench_and_three_wrong_PINs_lock()
    {
        await using var shop = await DoorShop.Open();
        await shop.Add("Robin", Role.Administrator);
        await shop.Add("Sam", Role.Rebuilder);
        await shop.Act(new GiveBadge.Command(DoorShop.NewId(), "Sam", new Secret("BADGE-8842-77"), new Secret("90817263")));
        using var bench = shop.Visit();
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Scan(bench, "11111111")).StatusCode);
        using var signedIn = await Scan(bench, "90817263");
        Assert.Equal((HttpStatusCode.SeeOther, "/bench"), (signedIn.StatusCode, signedIn.Headers.Location?.ToString()));
        Assert.Contains("Sam", await bench.Http.GetStringAsync("/me"), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.SeeOther, (await bench.Submit("/me", "/sign-out")).StatusCode);

        for (var wrong = 0; wrong < 3; wrong++) Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Scan(bench, "22222222")).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Scan(bench, "90817263")).StatusCode);
        static Task<HttpResponseMessage> Scan(Browser bench, string pin) =>
            bench.Submit("/sign-in/badge?to=%2Fbench", "/sign-in/badge", ("badge", "BADGE-8842-77"), ("pin", pin));
    }

    [Fact]
    public async Task A_second_factor_is_made_at_ones_own_page_and_asked_for_from_then_on()
    {
        await using var shop = await DoorShop.Open();
        await shop.Add("Kim", Role.Counter);
        using var browser = shop.Visit();
        await browser.SignIn("Kim", DoorShop.Password);
        Assert.Equal(HttpStatusCode.SeeOther, (await browser.Submit("/me", "/me/second-factor", ("password", DoorShop.Password))).StatusCode);
        var key = Key().Match(await browser.Http.GetStringAsync("/me")).Groups[1].Value.Replace(" ", "", StringComparison.Ordinal);
        Assert.Equal(32, key.Length);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await browser.Submit("/me", "/me/second-factor/confirm", ("code", "00000x"))).StatusCode);
        Assert.Equal(HttpStatusCode.SeeOther, (await browser.Submit("/me", "/me/second-factor/confirm", ("code", Code(0)))).StatusCode);
        Assert.DoesNotContain("type the key", await browser.Http.GetStringAsync("/me"), StringComparison.Ordinal);

        using var again = shop.Visit();
        using var halfWay = await again.SignIn("Kim", DoorShop.Password, "/warehouse");
        Assert.Equal("/sign-in/second?to=%2Fwarehouse", halfWay.Headers.Location?.ToString());
        Assert.Equal(HttpStatusCode.Redirect, (await again.Get("/counter")).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await again.Submit("/sign-in/second?to=%2Fwarehouse", "/sign-in/second", ("code", "00000x"))).StatusCode);
        using var signedIn = await again.Submit("/sign-in/second?to=%2Fwarehouse", "/sign-in/second", ("code", Code(1)));
        Assert.Equal((HttpStatusCode.SeeOther, "/warehouse"), (signedIn.StatusCode, signedIn.Headers.Location?.ToString()));
        Assert.Equal(HttpStatusCode.OK, (await again.Get("/counter")).StatusCode);
        Assert.DoesNotContain(shop.Log, line => line.Contains("00000x", StringComparison.Ordinal));

        // Within the slack of one half minute, so that neither is of the same half minute as the other.
        string Code(int later) => OneTimeCode.Of(OneTimeCode.FromBase32(key), (TimeProvider.System.GetUtcNow().ToUnixTimeSeconds() / 30) + later, 6);
    }

    [GeneratedRegex("type the key: <code>([A-Z2-7 ]+)</code>")]
    private static partial Regex Key();
}
