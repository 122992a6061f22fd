using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Jobs;

/// <summary>The page on which a job's parts are fetched, scan by scan.</summary>
public static class PullPages
{
    private const string Path = "/warehouse/pull";

    public static void MapPullPages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(Path, (HttpContext http) => ShopPages.Page<PullPage>(http,
            (nameof(PullPage.Number), Given(http.Request.Query["job"])), (nameof(PullPage.First), Given(http.Request.Query["first"])),
            (nameof(PullPage.Pulled), Given(http.Request.Query["pulled"]))));
        routes.MapForm<PullPage>(Path, Pull, post => [(nameof(PullPage.Number), post.Text("job")), (nameof(PullPage.First), post.TextIfGiven("first"))]);
    }

    /// <summary>
    /// What has two codes is scanned twice: half of a pair and then the other, a part and then the lot on its bag. The request says which; the
    /// page only remembers the first.
    /// </summary>
    private static async Task<Outcome<string>> Pull(FormPost post, CancellationToken cancellation)
    {
        var (job, first, scan) = (post.Text("job"), post.TextIfGiven("first"), post.Text(Sheet.ScanField));
        var pulled = await post.Send<PullForJob.Command, PullForJob.Answer>(first is null ? new(post.RequestId, job, scan)
            : new(post.RequestId, job, first, Lot: scan, With: scan), cancellation);
        if (first is null && pulled is { Succeeded: false, Refusal.Code: "HALF_OF_A_PAIR" or "LOT_MISSING" })
            return Sheet.Address(Path, ("job", job), ("first", scan));
        return pulled.Then<string>(_ => Sheet.Address(Path, ("job", job), ("pulled", first ?? scan)));
    }

    private static string? Given(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
