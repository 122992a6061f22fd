using PartsLedger.Fit;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Stock;

/// <summary>Where the warehouse's pages are.</summary>
public static class WarehousePages
{
    public static void MapWarehousePages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/warehouse", (HttpContext http) => ShopPages.Page<WarehousePage>(http,
            (nameof(WarehousePage.Scanned), (string?)http.Request.Query["scan"]), (nameof(WarehousePage.ForClass), (string?)http.Request.Query["class"])));
    }
}
