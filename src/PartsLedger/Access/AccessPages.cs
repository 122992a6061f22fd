using PartsLedger.Data.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Access;

/// <summary>The pages at the door, and each person's own.</summary>
public static class AccessPages
{
    public static void MapAccessPages(this IEndpointRouteBuilder routes, ServeSettings settings)
    {
        routes.MapGet("/sign-in", (HttpContext http) => ShopPages.Page<SignInPage>(http, To(http), (nameof(SignInPage.Note), Note(http)))).AllowAnonymous();
        routes.MapForm<SignInPage>("/sign-in", SignInByPassword, Back).AllowAnonymous().RequireRateLimiting(Rates.Door);
        routes.MapGet("/sign-in/second", (HttpContext http) => ShopPages.Page<SecondFactorPage>(http, To(http))).AllowAnonymous();
        routes.MapForm<SecondFactorPage>("/sign-in/second", SignInBySecondFactor, Back).AllowAnonymous().RequireRateLimiting(Rates.Door);
        routes.MapGet("/sign-in/badge", (HttpContext http) => ShopPages.Page<BadgePage>(http, To(http))).AllowAnonymous();
        routes.MapForm<BadgePage>("/sign-in/badge", SignInByBadge, Back).AllowAnonymous().RequireRateLimiting(Rates.Door);
        if (settings.SignInService is not null) SignInService.Map(routes);
        routes.MapForm<MyPage>("/sign-out", async (post, cancellation) =>
        {
            await Sessions.End(post.Http);
            return (await post.Send<SignOut.Command, PersonActed>(new(post.RequestId), cancellation)).Then<string>(_ => "/sign-in?note=out");
        });

        routes.MapGet("/set-up", (HttpContext http) => ShopPages.Page<SetUpPage>(http, (nameof(SetUpPage.Code), (string?)http.Request.Query["code"]))).AllowAnonymous();
        routes.MapForm<SetUpPage>("/set-up", SetUp,
            post => [(nameof(SetUpPage.Code), post.Text("code"))]).AllowAnonymous().RequireRateLimiting(Rates.Door);
        routes.MapGet("/new-password", (HttpContext http) => ShopPages.Page<NewPasswordPage>(http, (nameof(NewPasswordPage.Code), (string?)http.Request.Query["code"]))).AllowAnonymous();
        routes.MapForm<NewPasswordPage>("/new-password", async (post, cancellation) => (await post.Send<ChoosePassword.Command, PersonActed>(
            new(post.RequestId, post.Secret("code"), post.Secret("password")), cancellation)).Then<string>(_ => "/sign-in?note=password"),
            post => [(nameof(NewPasswordPage.Code), post.Text("code"))]).AllowAnonymous().RequireRateLimiting(Rates.Door);

        routes.MapGet("/me", (HttpContext http) => ShopPages.Page<MyPage>(http));
        routes.MapForm<MyPage>("/me/password", async (post, cancellation) => (await post.Send<ChangeMyPassword.Command, PersonActed>(
            new(post.RequestId, post.Secret("current"), post.Secret("next")), cancellation)).Then<string>(_ => "/sign-in?note=password"));
        routes.MapForm<MyPage>("/me/second-factor", async (post, cancellation) => (await post.Send<StartSecondFactor.Command, PersonActed>(
            new(post.RequestId, post.Secret("password")), cancellation)).Then<string>(_ => "/me"));
        routes.MapForm<MyPage>("/me/second-factor/confirm", async (post, cancellation) => (await post.Send<ConfirmSecondFactor.Command, PersonActed>(
            new(post.RequestId, post.Secret("code")), cancellation)).Then<string>(_ => "/me"));
    }

    private static async Task<Outcome<string>> SetUp(FormPost post, CancellationToken cancellation)
    {
        // Nobody could mend it: the link is used up, and there is no one yet to ask for another password.
        if (post.Secret("password").Reveal() != post.Secret("again").Reveal())
            return new Refusal("PASSWORDS_DIFFER", "The two passwords are not the same.", "Type the same one twice.");
        return (await post.Send<SetUpShop.Command, PersonActed>(
            new(post.RequestId, post.Secret("code"), post.Text("name"), post.Secret("password")), cancellation)).Then<string>(_ => "/sign-in?note=set-up");
    }

    private static async Task<Outcome<string>> SignInByPassword(FormPost post, CancellationToken cancellation)
    {
        if (await TooOften(post, nameof(SignIn.ByPassword), Code.KeyOf(post.Text("name")), cancellation) is { } refusal) return refusal;
        var judged = await Service<SignIn>(post).ByPassword(post.Text("name"), post.Secret("password").Reveal(), cancellation);
        if (!judged.Succeeded) return judged.Refusal;
        if (judged.Result.SecondFactorSince is null) return await Begin(post, judged.Result, CameBy.Password);
        await Sessions.BeginHalfWay(post.Http, judged.Result, Service<TimeProvider>(post));
        return "/sign-in/second" + QueryString.Create("to", LocalAddress.Of(post.Text("to")));
    }

    private static async Task<Outcome<string>> SignInBySecondFactor(FormPost post, CancellationToken cancellation)
    {
        var signIn = Service<SignIn>(post);
        if (await Sessions.WhoIsHalfWay(post.Http, signIn, cancellation) is not { } person)
            return new Refusal("SIGN_IN_TOO_LATE", "It is too long since the password was given.", "Begin again at /sign-in.");
        if (await TooOften(post, nameof(SignIn.BySecondFactor), person.NameKey, cancellation) is { } refusal) return refusal;
        var judged = await signIn.BySecondFactor(person.Id, post.Text("code"), cancellation);
        return judged.Succeeded ? await Begin(post, judged.Result, CameBy.Password) : judged.Refusal;
    }

    private static async Task<Outcome<string>> SignInByBadge(FormPost post, CancellationToken cancellation)
    {
        if (await TooOften(post, nameof(SignIn.ByBadge), Secret.HashOfCode(Code.KeyOf(post.Text("badge"))), cancellation) is { } refusal) return refusal;
        var judged = await Service<SignIn>(post).ByBadge(post.Text("badge"), post.Text("pin"), cancellation);
        return judged.Succeeded ? await Begin(post, judged.Result, CameBy.Badge) : judged.Refusal;
    }

    /// <summary>Tries under one name are few in a minute wherever they come from, whether or not somebody has that name.</summary>
    private static async Task<Refusal?> TooOften(FormPost post, string by, string who, CancellationToken cancellation)
    {
        if (Service<Rates>(post).WhyNotTry($"{by} {who}") is not { } refusal) return null;
        await Service<AuditDesk>(post).Refused(post.Caller, $"SignIn{by}", refusal.Code, cancellation);
        return refusal;
    }

    private static async Task<Outcome<string>> Begin(FormPost post, PersonRow person, CameBy by)
    {
        await Sessions.Begin(post.Http, person, by, Service<TimeProvider>(post));
        return LocalAddress.Of(post.Text("to"));
    }

    private static T Service<T>(FormPost post) where T : notnull => post.Http.RequestServices.GetRequiredService<T>();

    // All three pages at the door have this one parameter.
    private static (string, object?) To(HttpContext http) => (nameof(SignInPage.To), LocalAddress.Of(http.Request.Query["to"]));

    private static (string, object?)[] Back(FormPost post) => [(nameof(SignInPage.To), LocalAddress.Of(post.Text("to")))];

    private static string? Note(HttpContext http) => http.Request.Query["note"].ToString() switch
    {
        "set-up" => "The shop is set up. Sign in with the name and the password you chose.",
        "password" => "The password is changed. Sign in with it.",
        "out" => "You are signed out.",
        _ => null,
    };
}
