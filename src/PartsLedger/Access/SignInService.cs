using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.OpenIdConnect;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Access;

/// <summary>The sign-in service that a shop has for all its programs, if it chose one.</summary>
/// <param name="Authority">Where it says by OpenID Connect how it is asked.</param>
/// <param name="Client">What this program is called there.</param>
/// <param name="Secret">By which this program is known there.</param>
/// <param name="Name">What people call it.</param>
public sealed record SignInService(Uri Authority, string Client, Secret Secret, string Name)
{
    private const string Scheme = "sign-in-service";
    private const string Begin = "/sign-in/service";
    private const string Back = "/sign-in/service/back";

    /// <summary>One answer, whether the account is nobody's here, or somebody's who has left or is locked out.</summary>
    public static Refusal NotKnown { get; } = new("SIGN_IN_REFUSED", "Nobody who may sign in here is known by that account.",
        "Ask a supervisor or an administrator to link the account to your name.");

    private static Refusal BadAnswer { get; } = new("BAD_SIGN_IN_ANSWER", "What the sign-in service answered cannot be used, or it came too late.", "Begin again at /sign-in.");

    private static Refusal Away { get; } = new("SIGN_IN_SERVICE_AWAY", "The sign-in service does not answer.", "Try again in a moment, or sign in by name and password.");

    public static string AddressFor(string to) => Begin + QueryString.Create("to", to);

    /// <summary>Code flow with PKCE. What the service says is used to find the person and for nothing else: no session, role or name comes from it.</summary>
    public void AddTo(IServiceCollection services) => services.AddAuthentication().AddOpenIdConnect(Scheme, options =>
    {
        (options.Authority, options.ClientId, options.ClientSecret) = (Authority.ToString().TrimEnd('/'), Client, Secret.Reveal());
        options.RequireHttpsMetadata = !Authority.IsLoopback;
        (options.ResponseType, options.ResponseMode, options.UsePkce) = ("code", "query", true);
        options.CallbackPath = Back;
        options.SignInScheme = Sessions.HalfWay;
        (options.MapInboundClaims, options.SaveTokens, options.GetClaimsFromUserInfoEndpoint) = (false, false, false);
        options.Scope.Clear();
        options.Scope.Add("openid");
        options.BackchannelTimeout = TimeSpan.FromSeconds(10);
        options.RemoteAuthenticationTimeout = TimeSpan.FromMinutes(15);
        // The way back comes from another site, so these two go with it; they open nothing.
        foreach (var cookie in (CookieBuilder[])[options.CorrelationCookie, options.NonceCookie])
            (cookie.SameSite, cookie.SecurePolicy, cookie.HttpOnly) = (SameSiteMode.Lax, CookieSecurePolicy.SameAsRequest, true);
        options.Events = new OpenIdConnectEvents
        {
            OnTicketReceived = async context =>
            {
                context.HandleResponse();
                await Arrive(context.HttpContext, context.Principal?.FindFirstValue("sub"), LocalAddress.Of(context.ReturnUri));
            },
            OnRemoteFailure = async context =>
            {
                context.HandleResponse();
                await Refuse(context.HttpContext, StatusCodes.Status400BadRequest, BadAnswer);
            },
        };
    });

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet(Begin, async http =>
        {
            try
            {
                await http.ChallengeAsync(Scheme, new AuthenticationProperties { RedirectUri = LocalAddress.Of(http.Request.Query["to"]) });
            }
            catch (Exception away) when (away is InvalidOperationException or HttpRequestException or IOException)
            {
                await Refuse(http, StatusCodes.Status503ServiceUnavailable, Away);
            }
        }).AllowAnonymous().RequireRateLimiting(Rates.Door);

        // Answered before it is reached; stands here so that the door lets it through, and by how many.
        routes.MapGet(Back, http => Refuse(http, StatusCodes.Status400BadRequest, BadAnswer)).AllowAnonymous().RequireRateLimiting(Rates.Door);
    }

    private static async Task Arrive(HttpContext http, string? subject, string to)
    {
        var services = http.RequestServices;
        var judged = await services.GetRequiredService<SignIn>().ByService(subject, http.RequestAborted);
        if (!judged.Succeeded)
        {
            await Shield.Answer(http, StatusCodes.Status403Forbidden, judged.Refusal);
            return;
        }
        var clock = services.GetRequiredService<TimeProvider>();
        if (judged.Result.SecondFactorSince is null) await Sessions.Begin(http, judged.Result, CameBy.SignInService, clock);
        else
        {
            await Sessions.BeginHalfWay(http, judged.Result, clock);
            to = "/sign-in/second" + QueryString.Create("to", to);
        }

        // Not a redirect: a browser that was sent here by another site would go on without the session, which no other site may use.
        http.Response.Headers["Refresh"] = $"0; url={to}";
        await ShopPages.Page<ArrivedPage>(http, (nameof(ArrivedPage.To), to)).ExecuteAsync(http);
    }

    private static async Task Refuse(HttpContext http, int status, Refusal refusal)
    {
        var services = http.RequestServices;
        await services.GetRequiredService<AuditDesk>().Refused(
            services.GetRequiredService<CurrentCaller>().Caller, $"SignIn{nameof(SignIn.ByService)}", refusal.Code, http.RequestAborted);
        await Shield.Answer(http, status, refusal);
    }
}
