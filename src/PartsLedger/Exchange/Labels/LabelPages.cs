using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Exchange.Labels;

/// <summary>Labels out of the warehouse's page: <c>/warehouse/labels.pdf?codes=A%0AB&amp;paper=sheet</c>.</summary>
public static class LabelPages
{
    public static void MapLabelPages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/warehouse/labels", (HttpContext http) => ShopPages.Page<LabelsPage>(http, (nameof(LabelsPage.Codes),
            (IReadOnlyList<string>)[.. Codes(http.Request.Query["codes"]), .. Codes(http.Request.Query[Sheet.ScanField])])));
        routes.MapGet("/warehouse/labels.pdf", async (Asking asking, string? codes, string? paper, CancellationToken cancellation) =>
        {
            var labels = await asking.Ask<LabelsFor.Query, IReadOnlyList<Label>>(new(Codes(codes)), cancellation);
            return labels.Succeeded
                ? Results.File(LabelPrinter.Print(labels.Result, paper == "sheet" ? LabelPaper.Sheet : LabelPaper.Roll), "application/pdf", "labels.pdf")
                : Results.Text($"{labels.Refusal}\n", statusCode: StatusCodes.Status404NotFound);
        });
    }

    private static string[] Codes(string? text) => (text ?? "").Split(['\r', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
