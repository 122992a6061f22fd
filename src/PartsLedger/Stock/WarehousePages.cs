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
        foreach (var work in ShelfWork.All) Map(routes, work);
    }

    private static void Map(IEndpointRouteBuilder routes, ShelfWork work)
    {
        routes.MapGet(work.Path, (HttpContext http) => ShopPages.Page<ShelfPage>(http, (nameof(ShelfPage.Work), work), (nameof(ShelfPage.Sheet), Sheet.Of(http.Request.Query))));
        routes.MapForm<ShelfPage>(work.Path, async (post, cancellation) =>
        {
            // A scan goes into the form; without one the form is meant.
            var sheet = Sheet.Of(post);
            if (sheet.Has(Sheet.ScanField)) return sheet.At(work.Path);
            if (sheet.Has("carried"))
                return (await ShelfWork.Carry(post, cancellation)).Then<string>(moved => Sheet.Address("/warehouse", ("scan", moved.Code)));
            return (await work.Send(post, new FormReader(post), cancellation))
                .Then<string>(number => sheet.Only([.. work.Kept]).With("done", FormattableString.Invariant($"{number}"))
                    .With("was", $"{post.Text(ShelfWork.Quantity)} × {post.Text(ShelfWork.Part)}").At(work.Path));
        }, post => [(nameof(ShelfPage.Work), work), (nameof(ShelfPage.Sheet), Sheet.Of(post))]);
    }
}
