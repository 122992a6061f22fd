using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;
using System.Globalization;

namespace PartsLedger.Access;

/// <summary>The office's pages about people, tokens and the audit. What is shown once comes back with the page and stands in no address.</summary>
public static class AccessOfficePages
{
    public static void MapAccessOfficePages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(PeoplePage.Path, (HttpContext http) => ShopPages.Page<PeoplePage>(http,
            (nameof(PeoplePage.Name), Given(http, "name")), (nameof(PeoplePage.After), Given(http, "after"))));
        routes.MapTellingForm<PeoplePage, PersonActed>(PeoplePage.Path, (post, cancellation) =>
            post.Send<AddPerson.Command, PersonActed>(new(post.RequestId, post.Text("name"), RolePicks.In(post)), cancellation), Told);
        Person<ChangeRoles.Command>(PeoplePage.RolesPath, post => new(post.RequestId, post.Text("name"), RolePicks.In(post)));
        Person<ResetPassword.Command>(PeoplePage.ResetPath, post => new(post.RequestId, post.Text("name"), post.Text("second") == "yes"));
        Person<GiveBadge.Command>(PeoplePage.BadgePath, post => new(post.RequestId, post.Text("name"), post.Secret("badge"), post.Secret("pin")));
        Person<GiveBadge.Command>(PeoplePage.BadgeBackPath, post => new(post.RequestId, post.Text("name"), null, null));
        Person<LinkAccount.Command>(PeoplePage.AccountPath, post => new(post.RequestId, post.Text("name"), post.TextIfGiven("account")));
        Person<SetPersonActive.Command>(PeoplePage.ActivePath, post => new(post.RequestId, post.Text("name"), post.Text("active") == "yes"));

        routes.MapGet(TokensPage.Path, (HttpContext http) => ShopPages.Page<TokensPage>(http, (nameof(TokensPage.After), Given(http, "after"))));
        routes.MapTellingForm<TokensPage, MakeToken.Answer>(TokensPage.Path, async (post, cancellation) =>
            int.TryParse(post.Text("days"), NumberStyles.None, CultureInfo.InvariantCulture, out var days)
                ? await post.Send<MakeToken.Command, MakeToken.Answer>(new(post.RequestId, post.Text("name"), RolePicks.In(post), days), cancellation)
                : new Refusal("BAD_EXPIRY", $"'{post.Text("days")}' is no number of days.", $"Give 1 to {MakeToken.MostDays}."),
            (_, made) => [(nameof(TokensPage.Made), made)]);
        routes.MapForm<TokensPage>(TokensPage.RevokePath, async (post, cancellation) => (await post.Send<RevokeToken.Command, PersonActed>(
            new(post.RequestId, post.Text("which")), cancellation)).Then<string>(_ => TokensPage.Path));

        routes.MapGet(AuditPage.Path, (HttpContext http) => ShopPages.Page<AuditPage>(http, (nameof(AuditPage.Asked), Sheet.Of(http.Request.Query))));

        // Acts on one person: their page comes back, with what was done or why it was refused.
        void Person<TAct>(string path, Func<FormPost, TAct> act) where TAct : IAct<PersonActed> => routes.MapTellingForm<PeoplePage, PersonActed>(
            path, (post, cancellation) => post.Send<TAct, PersonActed>(act(post), cancellation), Told, post => [(nameof(PeoplePage.Name), post.Text("name"))]);
    }

    private static (string, object?)[] Told(FormPost post, PersonActed acted) => [(nameof(PeoplePage.Name), acted.Name), (nameof(PeoplePage.Told), acted)];

    private static string? Given(HttpContext http, string name) => http.Request.Query[name].ToString() is { Length: > 0 } text ? text : null;
}
