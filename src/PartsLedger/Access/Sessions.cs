using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>
/// Sessions of people in browsers: a protected cookie that names the person, their stamp and how they came in. Roles are not in it: they are
/// read with every request, so that what is taken from somebody is gone at once.
/// </summary>
public static class Sessions
{
    public const string Cookie = "partsledger";

    /// <summary>Holds for a few minutes that a password was right, while the second factor is asked for.</summary>
    public const string HalfWay = "partsledger-half-way";

    /// <summary>A shared bench forgets soon; a desk lasts a working day.</summary>
    public static readonly TimeSpan AtBench = TimeSpan.FromMinutes(30);
    public static readonly TimeSpan AtDesk = TimeSpan.FromHours(12);
    public static readonly TimeSpan BetweenFactors = TimeSpan.FromMinutes(5);

    private const string Stamp = "stamp";
    private const string By = "by";

    public static void AddSessions(this IServiceCollection services)
    {
        // Neither is the default scheme: only the door reads them, and nothing answers with a challenge of its own.
        var authentication = services.AddAuthentication();
        foreach (var scheme in (string[])[Cookie, HalfWay])
            authentication.AddCookie(scheme, options =>
            {
                options.Cookie.Name = scheme;
                options.Cookie.HttpOnly = true;
                options.Cookie.IsEssential = true;
                options.Cookie.SameSite = SameSiteMode.Strict;
                options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
                options.SlidingExpiration = false;
            });
    }

    /// <summary>Begins a session under a new cookie, whatever the browser held before.</summary>
    public static async Task Begin(HttpContext http, PersonRow person, CameBy by, TimeProvider clock)
    {
        await http.SignOutAsync(HalfWay);
        await Write(http, Cookie, person, by, clock.GetUtcNow() + (by == CameBy.Badge ? AtBench : AtDesk));
    }

    public static Task BeginHalfWay(HttpContext http, PersonRow person, TimeProvider clock) =>
        Write(http, HalfWay, person, CameBy.Nothing, clock.GetUtcNow() + BetweenFactors);

    public static async Task End(HttpContext http)
    {
        await http.SignOutAsync(HalfWay);
        await http.SignOutAsync(Cookie);
    }

    /// <summary>The person whose password was right a moment ago, if the browser holds that.</summary>
    public static async Task<PersonRow?> WhoIsHalfWay(HttpContext http, SignIn signIn, CancellationToken cancellation) =>
        (await Read(http, HalfWay, signIn, cancellation))?.Person;

    /// <summary>Who is signed in in this browser; null when nobody is, or no longer.</summary>
    public static async Task<Caller?> WhoIsHere(HttpContext http, SignIn signIn, CancellationToken cancellation)
    {
        if (await Read(http, Cookie, signIn, cancellation) is not var (person, principal, by)) return null;
        var roles = person.Roles.Select(row => row.Role).ToList();
        if (by == CameBy.Badge && !AccessRules.MayUseBadge(roles)) return null;

        // Forms are protected for the one who is signed in.
        http.User = principal;
        return new Caller(person.Name, roles) { PersonId = person.Id, CameBy = by };
    }

    private static Task Write(HttpContext http, string scheme, PersonRow person, CameBy by, DateTimeOffset until)
    {
        var identity = new ClaimsIdentity([
            new(ClaimTypes.NameIdentifier, person.Id.ToString(CultureInfo.InvariantCulture)), new(Stamp, person.Stamp), new(By, Words.Of(by))], scheme);
        return http.SignInAsync(scheme, new ClaimsPrincipal(identity), new AuthenticationProperties { ExpiresUtc = until, IsPersistent = false });
    }

    private static async Task<(PersonRow Person, ClaimsPrincipal Principal, CameBy By)?> Read(
        HttpContext http, string scheme, SignIn signIn, CancellationToken cancellation)
    {
        if (!http.Request.Cookies.ContainsKey(scheme) || (await http.AuthenticateAsync(scheme)).Principal is not { } principal) return null;
        return int.TryParse(principal.FindFirstValue(ClaimTypes.NameIdentifier), CultureInfo.InvariantCulture, out var id)
            && Words.TryParse(principal.FindFirstValue(By), out CameBy by)
            && await signIn.Known(id, principal.FindFirstValue(Stamp) ?? "", cancellation) is { } person ? (person, principal, by) : null;
    }
}
