using PartsLedger.Cores;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Stock;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// Where the bench's page is, and its forms from the variant to the kit list and the parts; <see cref="BenchWork"/> has the rest. Each form
/// is read and sent on as a request: nothing is decided here.
/// </summary>
public static class BenchPages
{
    /// <summary>How many speeds the form for a bench run has room for.</summary>
    public const int Speeds = 4;

    public static void MapBenchPages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/bench", (HttpContext http) => ShopPages.Page<BenchPage>(http, [.. new[]
        {
            (nameof(BenchPage.Number), "job"), (nameof(BenchPage.After), "after"), (nameof(BenchPage.At), "at"), (nameof(BenchPage.Unit), "unit"),
            (nameof(BenchPage.With), "with"),
        }.Select(one => (one.Item1, (object?)(string?)http.Request.Query[one.Item2]))]));
        routes.MapGet("/bench/version", Version);

        Map<SettleVariant.Command, JobActed>(routes, "/bench/variant", "variant", "findings", (post, read) =>
            new(post.RequestId, post.Text("job"), post.TextIfGiven("variant") ?? post.Text("candidate"), post.TextIfGiven("why")));
        Map<TearDownCore.Command, CoreActed>(routes, "/bench/tear-down", "findings", "findings", TearDown);
        Map<GradeCore.Command, CoreActed>(routes, "/bench/grade", "findings", "findings", (post, read) =>
            new(post.RequestId, post.Text("core"), read.Word("grade", CoreGrade.Sound), [], post.TextIfGiven("note")));
        Map<RecordFindings.Command, JobActed>(routes, "/bench/findings", "findings", "list", Findings);
        Map<AcceptList.Command, AcceptList.Answer>(routes, "/bench/list", "list", "fetch", (post, read) =>
            new(post.RequestId, post.Text("job"), post.Text("mark"), post.TextIfGiven("why")));
        Map<ReserveList.Command, ReserveForJob.Answer>(routes, "/bench/reserve", "fetch", "fetch", (post, read) =>
            new(post.RequestId, post.Text("job"), read.Word("rule", ReserveRule.AllOrNothing)));
        Map<PullForJob.Command, PullForJob.Answer>(routes, "/bench/pull", "fetch", "", (post, read) =>
            new(post.RequestId, post.Text("job"), post.Text("scan"), post.TextIfGiven("lot"), read.QuantityIfGiven("quantity"), post.TextIfGiven("with")));
        Map<PutShort.Command, JobActed>(routes, "/bench/short", "fetch", "", (post, read) =>
            new(post.RequestId, post.Text("job"), post.Text("part"), read.Quantity("quantity"), post.Text("why"), post.TextIfGiven("substitute"), read.QuantityIfGiven("substitute-quantity")));
        Map<GiveBack.Command, JobActed>(routes, "/bench/give-back", "fetch", "fetch", (post, read) =>
            new(post.RequestId, post.Text("job"), post.Text("part"), read.Quantity("quantity"), post.Text("to"), Lot: post.TextIfGiven("lot"), Why: post.TextIfGiven("why")));
        Map<ReturnSurplus.Command, ReturnSurplus.Answer>(routes, "/bench/surplus", "fetch", "", (post, read) => new(post.RequestId, post.Text("job"), post.Text("to")));
        routes.MapBenchWork();
    }

    /// <summary>One form of the page.</summary>
    /// <param name="routes">Where to.</param>
    /// <param name="path">Its address.</param>
    /// <param name="at">The part of the page that it stands on, and comes back to when it is refused.</param>
    /// <param name="next">The part to go on to; empty for the one where the job is then.</param>
    /// <param name="act">The request that it becomes; where a field says nothing the form goes back instead.</param>
    internal static void Map<TAct, TAnswer>(IEndpointRouteBuilder routes, string path, string at, string next, Func<FormPost, FormReader, TAct> act)
        where TAct : IAct<TAnswer> where TAnswer : notnull => routes.MapForm<BenchPage>(path, async (post, cancellation) =>
        {
            var read = new FormReader(post);
            return (await read.Send<TAct, TAnswer>(act(post, read), cancellation)).Then<string>(done => Address(post, next, done switch
            {
                UnitActed { Code: var code } => code,
                AcceptProposal.Answer { Pairs: [{ Pair: var pair }, ..] } => pair,
                _ => null,
            }));
        }, post => [(nameof(BenchPage.Number), post.Text("job")), (nameof(BenchPage.At), at)]);

    /// <summary>What was just measured stays in the address, so that its judgement is shown.</summary>
    private static readonly string[] Measured = ["unit", "with"];

    /// <param name="unit">A housing, valve or pair that something was done with: it is shown as it is now.</param>
    private static string Address(FormPost post, string next, string? unit) => "/bench" + QueryString.Create([
        new("job", post.Text("job")), .. next.Length == 0 ? [] : (KeyValuePair<string, string?>[])[new("at", next)],
        .. unit is null ? [] : (KeyValuePair<string, string?>[])[new("unit", unit)],
        .. Measured.Where(name => next == "measure" && post.Text(name).Length > 0).Select(name => new KeyValuePair<string, string?>(name, post.Text(name))),
    ]);

    private static async Task<IResult> Version(Asking asking, string? job, CancellationToken cancellation)
    {
        var version = await asking.Ask<BenchVersion.Query, BenchVersion.Answer>(new(job ?? ""), cancellation);
        return version.Succeeded ? Results.Text(version.Result.Version) : Results.Text($"{version.Refusal}\n", statusCode: StatusCodes.Status404NotFound);
    }

    private static TearDownCore.Command TearDown(FormPost post, FormReader read)
    {
        var (shims, stack) = (read.WholeIfGiven("shims"), read.LengthIfGiven("stack"));
        return new(post.RequestId, post.Text("core"), post.TextIfGiven("housing") is { } housing ? new(housing) : null,
            post.TextIfGiven("valve") is { } valve ? new(valve, ShimCount: shims, ShimStackNanometres: stack?.Nanometres) : null, post.TextIfGiven("pair"), post.Text("place"), []);
    }

    /// <summary>Only what is another finding than the form showed, or says something new about it.</summary>
    private static RecordFindings.Command Findings(FormPost post, FormReader read)
    {
        const string field = "was-";
        var findings = new List<GradeCore.PositionFinding>();
        foreach (var position in post.Names.Where(name => name.StartsWith(field, StringComparison.Ordinal)).Select(name => name[field.Length..]))
        {
            var (was, note) = (post.Text(field + position), post.TextIfGiven($"note-{position}"));
            var known = Words.TryParse(post.Text($"found-{position}"), out Finding found);
            if (!known && note is not null) read.Refuse(new("FINDING_MISSING", $"Position {position} has a note and no finding.", "Say what was found there."));
            if (known && int.TryParse(position, out var number) && (Words.Of(found) != was || note is not null)) findings.Add(new(number, found, note));
        }
        var seen = read.Seen();
        if (findings.Count == 0 && seen > 0) read.Refuse(new("NOTHING_TO_DO", "No finding is another one than before.", "Change what was found, or go on to the kit list."));
        return new(post.RequestId, post.Text("job"), findings, Seen: seen);
    }
}
