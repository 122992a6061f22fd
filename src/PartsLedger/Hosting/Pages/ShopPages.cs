using System.Security.Cryptography;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Net.Http.Headers;
using PartsLedger.Fit;
using PartsLedger.Identification;
using PartsLedger.Jobs;

namespace PartsLedger.Hosting.Pages;

/// <summary>
/// The pages: plain documents made on the server, links and forms that ask by GET. Nothing here changes anything: what does is a form that
/// posts (<see cref="ShopForms"/>). They need no script and load one stylesheet.
/// </summary>
public static class ShopPages
{
    private const string Policy = "default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    private static readonly byte[] Stylesheet = ReadStylesheet();
    private static readonly EntityTagHeaderValue StylesheetTag = new($"\"{Convert.ToHexStringLower(SHA256.HashData(Stylesheet))[..16]}\"");

    public static void MapShopPages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/", (HttpContext http) => Page<HomePage>(http));
        routes.MapGet("/counter", (HttpContext http) => Page<CounterPage>(http, (nameof(CounterPage.Asked), CounterQuestion.Read(http.Request.Query))));
        routes.MapGet("/compare", (HttpContext http) => Page<ComparePage>(http,
            (nameof(ComparePage.Variants), http.Request.Query["variant"].OfType<string>().ToList()), (nameof(ComparePage.Everything), http.Request.Query["all"] == "yes")));
        routes.MapGet("/warehouse", (HttpContext http) => Page<WarehousePage>(http,
            (nameof(WarehousePage.Scanned), (string?)http.Request.Query["scan"]), (nameof(WarehousePage.ForClass), (string?)http.Request.Query["class"])));
        routes.MapGet("/bench", (HttpContext http) => Page<BenchPage>(http,
            (nameof(BenchPage.Number), (string?)http.Request.Query["job"]), (nameof(BenchPage.After), (string?)http.Request.Query["after"])));
        routes.MapGet("/shop.css", () => Results.Bytes(Stylesheet, "text/css; charset=utf-8", entityTag: StylesheetTag)).AllowAnonymous();
    }

    /// <summary>A page that is made on the server, with everything that keeps it from being misused.</summary>
    public static RazorComponentResult<TPage> Page<TPage>(HttpContext http, params (string Name, object? Value)[] parameters) where TPage : IComponent
    {
        http.Response.Headers.ContentSecurityPolicy = Policy;
        http.Response.Headers.XContentTypeOptions = "nosniff";
        http.Response.Headers["Referrer-Policy"] = "same-origin";
        http.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters.ToDictionary(entry => entry.Name, entry => entry.Value)) { PreventStreamingRendering = true };
    }

    private static byte[] ReadStylesheet()
    {
        using var stream = typeof(ShopPages).Assembly.GetManifestResourceStream("PartsLedger.Hosting.Pages.shop.css")
            ?? throw new InvalidOperationException("The stylesheet is not in the program.");
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }
}
