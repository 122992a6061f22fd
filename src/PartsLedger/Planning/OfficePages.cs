using System.Globalization;
using PartsLedger.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;
using PartsLedger.Stock;
using Microsoft.AspNetCore.Mvc;

namespace PartsLedger.Planning;

/// <summary>Where the office's pages are, and what their forms do.</summary>
public static class OfficePages
{
    public static void MapOfficePages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/office", (HttpContext http) => ShopPages.Page<OfficePage>(http));
        routes.MapGet("/office/order", (HttpContext http) => ShopPages.Page<ToOrderPage>(http));
        routes.MapGet("/office/value", (HttpContext http) => ShopPages.Page<StockValuePage>(http, (nameof(StockValuePage.Begin), (string?)http.Request.Query["begin"])));
        routes.MapGet(PricesPage.Path, (HttpContext http) => ShopPages.Page<PricesPage>(http, (nameof(PricesPage.Sheet), Sheet.Of(http.Request.Query))));
        routes.MapForm<PricesPage>(PricesPage.SetPath, SetThePrices, post => [(nameof(PricesPage.Sheet), Sheet.Of(post))]);
        routes.MapGet("/office/choices", (HttpContext http) => ShopPages.Page<ChoicesPage>(http));
        foreach (var choice in ShopSettings.Names)
            routes.MapForm<ChoicesPage>($"/office/choices/{choice}", async (post, cancellation) =>
            {
                var read = new FormReader(post);
                var isFigure = choice is ShopSettings.RecountAboveName or ShopSettings.GuardFactorName;
                return (await read.Send<SetShopChoice.Command, SetShopChoice.Answer>(new(post.RequestId, choice, isFigure ? read.Figures("value") : post.Text("value")), cancellation))
                    .Then<string>(_ => "/office/choices");
            });

        routes.MapGet("/office/import", (HttpContext http) => ShopPages.Page<ImportPage>(http, (nameof(ImportPage.Id), (string?)http.Request.Query["id"])));
        routes.MapForm<ImportPage>("/office/import", Look).WithMetadata(new RequestSizeLimitAttribute(ImportTray.MostBytes)).WithRequestTimeout(AnswerTimes.Long);
        routes.MapForm<ImportPage>("/office/import/take", Take, post => [(nameof(ImportPage.Id), post.Text("id"))]).WithRequestTimeout(AnswerTimes.Long);
        routes.MapGet("/office/import/{id}/rejects/{file}", (ImportTray tray, CurrentCaller current, string id, string file) =>
            tray.Find(id, current.Caller)?.Report.RejectsFolder is { } folder
            && Directory.GetFiles(folder).FirstOrDefault(path => Path.GetFileName(path) == file) is { } found
                ? Results.File(found, "text/csv; charset=utf-8", file) : Results.NotFound());
    }

    /// <summary>Only what is another price than the form showed.</summary>
    private static async Task<Outcome<string>> SetThePrices(FormPost post, CancellationToken cancellation)
    {
        const string field = "price-";
        var (read, lines) = (new FormReader(post), new List<SetPrices.Line>());
        foreach (var part in post.Names.Where(name => name.StartsWith(field, StringComparison.Ordinal)).Select(name => name[field.Length..]))
        {
            var (price, was) = (read.MoneyIfGiven(field + part), Money.TryParse(post.Text($"was-{part}"), out var shown) ? shown : (Money?)null);
            if (price != was) lines.Add(new(part, price, new(was)));
        }
        if (lines.Count == 0) read.Refuse(new("NOTHING_TO_DO", "No price is another one than before.", "Change a price first."));
        return (await read.Send<SetPrices.Command, SetPrices.Answer>(new(post.RequestId, lines), cancellation)).Then<string>(set => Sheet.Address(PricesPage.Path,
            ("begin", post.TextIfGiven("begin")), ("missing", post.TextIfGiven("missing")), ("set", set.Parts.Count.ToString(CultureInfo.InvariantCulture))));
    }

    /// <summary>Says what the files would change, and keeps them.</summary>
    private static async Task<Outcome<string>> Look(FormPost post, CancellationToken cancellation)
    {
        var tray = Service<ImportTray>(post);
        if (Permission.WhyNot(typeof(ImportOptions), post.Caller) is { } notAllowed) return notAllowed;
        var unpacked = await ImportTray.Unpack(post.Files, cancellation);
        if (!unpacked.Succeeded) return unpacked.Refusal;
        var report = await Service<FolderImporter>(post).Import(unpacked.Result, new ImportOptions(DryRun: true), post.Caller, cancellation);
        if (report.Succeeded) return "/office/import" + QueryString.Create("id", tray.Keep(unpacked.Result, post.Caller, report.Result));
        ImportTray.Drop(unpacked.Result);

        // Where on this machine the files lie is nobody's business.
        return report.Refusal with { Sentence = report.Refusal.Sentence.Replace($"The folder {unpacked.Result}", "What was sent", StringComparison.Ordinal) };
    }

    private static async Task<Outcome<string>> Take(FormPost post, CancellationToken cancellation)
    {
        var tray = Service<ImportTray>(post);
        if (tray.Find(post.Text("id"), post.Caller) is not { } sending)
            return new Refusal("FILES_GONE", "These files are no longer here.", "Choose them again; what was taken before is taken once, whatever is sent again.");
        if (sending.Report.DryRun)
        {
            var report = await Service<FolderImporter>(post).Import(sending.Folder, new ImportOptions(), post.Caller, cancellation);
            if (!report.Succeeded) return report.Refusal;
            tray.Taken(sending, report.Result);
        }
        return "/office/import" + QueryString.Create("id", sending.Id);
    }

    private static T Service<T>(FormPost post) where T : notnull => post.Http.RequestServices.GetRequiredService<T>();
}
