using Microsoft.AspNetCore.Components;

namespace PartsLedger.Hosting.Pages;

/// <summary>
/// The pages: plain documents made on the server, links and forms that ask by GET. Nothing here changes anything: what does is a form that
/// posts (<see cref="ShopForms"/>). They need no script; the one they load adds only what a form and a link cannot do by themselves.
/// </summary>
public static class ShopPages
{
    private const string Policy = "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    private static readonly ShopFile Stylesheet = new("shop.css", "text/css");

    private static readonly ShopFile Script = new("shop.js", "text/javascript");

    /// <summary>Where the stylesheet is: another address whenever it is another sheet, so that a browser may keep it for good.</summary>
    public static string StylesheetAddress => Stylesheet.Address;

    /// <summary>Where the script is, in the same way.</summary>
    public static string ScriptAddress => Script.Address;

    public static void MapShopPages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/", (HttpContext http) => Page<HomePage>(http));
        Stylesheet.Map(routes);
        Script.Map(routes);
    }

    /// <summary>A page that is made on the server, with the policy that pages need; what all answers have is the <see cref="Shield"/>'s.</summary>
    public static IResult Page<TPage>(HttpContext http, params (string Name, object? Value)[] parameters) where TPage : IComponent
    {
        http.Response.Headers.ContentSecurityPolicy = Policy;
        return new ShopPageResult<TPage>(parameters.ToDictionary(entry => entry.Name, entry => entry.Value));
    }
}
