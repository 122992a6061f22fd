using PartsLedger.Hosting.Pages;

namespace PartsLedger.Identification;

/// <summary>Where the counter's pages are.</summary>
public static class CounterPages
{
    public static void MapCounterPages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/counter", (HttpContext http) => ShopPages.Page<CounterPage>(http, (nameof(CounterPage.Asked), CounterQuestion.Read(http.Request.Query))));
        routes.MapGet("/counter/ahead", (HttpContext http) => ShopPages.Page<LikelyAnswers>(http, (nameof(LikelyAnswers.Text), http.Request.Query["q"].ToString().Trim())));
        routes.MapGet(CounterForms.QuotePath, (HttpContext http) => ShopPages.Page<QuotePage>(http, (nameof(QuotePage.Asked), CounterQuestion.Read(http.Request.Query))));
        routes.MapCounterForms();
        routes.MapGet("/compare", (HttpContext http) => ShopPages.Page<ComparePage>(http,
            (nameof(ComparePage.Variants), http.Request.Query["variant"].OfType<string>().ToList()), (nameof(ComparePage.Everything), http.Request.Query["all"] == "yes")));
    }
}
