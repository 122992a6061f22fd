using PartsLedger.Cores;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
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

        Map(routes, "/bench/variant", "variant", "findings", (post, cancellation) => Send<SettleVariant.Command, JobActed>(post, new SettleVariant.Command(
            post.RequestId, post.Text("job"), post.TextIfGiven("variant") ?? post.Text("candidate"), post.TextIfGiven("why")), cancellation));
        Map(routes, "/bench/tear-down", "findings", "findings", (post, cancellation) => Send<TearDownCore.Command, CoreActed>(post, TearDown(post), cancellation));
        Map(routes, "/bench/findings", "findings", "list", (post, cancellation) => Send<RecordFindings.Command, JobActed>(post, Findings(post), cancellation));
        Map(routes, "/bench/list", "list", "fetch", (post, cancellation) => Send<AcceptList.Command, AcceptList.Answer>(post, new AcceptList.Command(
            post.RequestId, post.Text("job"), post.Text("mark"), post.TextIfGiven("why")), cancellation));
        Map(routes, "/bench/reserve", "fetch", "fetch", (post, cancellation) => Send<ReserveList.Command, ReserveForJob.Answer>(post, new ReserveList.Command(
            post.RequestId, post.Text("job"), Words.TryParse(post.Text("rule"), out ReserveRule rule) ? rule : ReserveRule.AllOrNothing), cancellation));
        Map(routes, "/bench/pull", "fetch", "", (post, cancellation) => Send<PullForJob.Command, PullForJob.Answer>(post, post.Quantity("quantity").Then<PullForJob.Command>(read =>
            new PullForJob.Command(post.RequestId, post.Text("job"), post.Text("scan"), post.TextIfGiven("lot"), read.Quantity, post.TextIfGiven("with"))), cancellation));
        Map(routes, "/bench/short", "fetch", "", (post, cancellation) => Send<PutShort.Command, JobActed>(post, post.Quantity("quantity").Then(read =>
            post.Quantity("substitute-quantity").Then<PutShort.Command>(instead => new PutShort.Command(post.RequestId, post.Text("job"), post.Text("part"),
                read.Quantity ?? default, post.Text("why"), post.TextIfGiven("substitute"), instead.Quantity))), cancellation));
        Map(routes, "/bench/give-back", "fetch", "fetch", (post, cancellation) => Send<GiveBack.Command, JobActed>(post, post.Quantity("quantity").Then<GiveBack.Command>(read =>
            new GiveBack.Command(post.RequestId, post.Text("job"), post.Text("part"), read.Quantity ?? default, post.Text("to"), Lot: post.TextIfGiven("lot"),
                Why: post.TextIfGiven("why"))), cancellation));
        Map(routes, "/bench/surplus", "fetch", "", (post, cancellation) => Send<ReturnSurplus.Command, ReturnSurplus.Answer>(post, new ReturnSurplus.Command(
            post.RequestId, post.Text("job"), post.Text("to")), cancellation));
        routes.MapBenchWork();
    }

    /// <summary>One form of the page.</summary>
    /// <param name="routes">Where to.</param>
    /// <param name="path">Its address.</param>
    /// <param name="at">The part of the page that it stands on, and comes back to when it is refused.</param>
    /// <param name="next">The part to go on to; empty for the one where the job is then.</param>
    /// <param name="act">Sends it.</param>
    internal static void Map(IEndpointRouteBuilder routes, string path, string at, string next, Func<FormPost, CancellationToken, Task<Refusal?>> act) =>
        routes.MapForm<BenchPage>(path, async (post, cancellation) => await act(post, cancellation) is { } refusal
            ? (Outcome<string>)refusal : Address(post, next),
            post => [(nameof(BenchPage.Number), post.Text("job")), (nameof(BenchPage.At), at)]);

    internal static async Task<Refusal?> Send<TAct, TAnswer>(FormPost post, Outcome<TAct> act, CancellationToken cancellation)
        where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        if (!act.Succeeded) return act.Refusal;
        var done = await post.Send<TAct, TAnswer>(act.Result, cancellation);
        return done.Succeeded ? null : done.Refusal;
    }

    /// <summary>What was just measured stays in the address, so that its judgement is shown.</summary>
    private static readonly string[] Measured = ["unit", "with"];

    private static string Address(FormPost post, string next) => "/bench" + QueryString.Create([
        new("job", post.Text("job")), .. next.Length == 0 ? [] : (KeyValuePair<string, string?>[])[new("at", next)],
        .. Measured.Where(name => next == "measure" && post.Text(name).Length > 0).Select(name => new KeyValuePair<string, string?>(name, post.Text(name))),
    ]);

    private static async Task<IResult> Version(Asking asking, string? job, CancellationToken cancellation)
    {
        var version = await asking.Ask<BenchVersion.Query, BenchVersion.Answer>(new(job ?? ""), cancellation);
        return version.Succeeded ? Results.Text(version.Result.Version) : Results.Text($"{version.Refusal}\n", statusCode: StatusCodes.Status404NotFound);
    }

    private static Outcome<TearDownCore.Command> TearDown(FormPost post)
    {
        var (shims, stack) = (post.Number("shims"), post.Millimetres("stack"));
        if (!shims.Succeeded) return shims.Refusal;
        if (!stack.Succeeded) return stack.Refusal;
        return new TearDownCore.Command(post.RequestId, post.Text("core"),
            post.TextIfGiven("housing") is { } housing ? new TearDownCore.Half(housing) : null,
            post.TextIfGiven("valve") is { } valve ? new TearDownCore.Half(valve, ShimCount: (int?)shims.Result.Number, ShimStackNanometres: stack.Result.Nanometres) : null,
            post.TextIfGiven("pair"), post.Text("place"), []);
    }

    /// <summary>Only what is another finding than the form showed, or says something new about it.</summary>
    private static Outcome<RecordFindings.Command> Findings(FormPost post)
    {
        const string field = "was-";
        var findings = new List<GradeCore.PositionFinding>();
        foreach (var position in post.Names.Where(name => name.StartsWith(field, StringComparison.Ordinal)).Select(name => name[field.Length..]))
        {
            var (was, note) = (post.Text(field + position), post.TextIfGiven($"note-{position}"));
            var known = Words.TryParse(post.Text($"found-{position}"), out Finding found);
            if (!known && note is not null) return new Refusal("FINDING_MISSING", $"Position {position} has a note and no finding.", "Say what was found there.");
            if (known && int.TryParse(position, out var number) && (Words.Of(found) != was || note is not null)) findings.Add(new(number, found, note));
        }
        var seen = post.SeenIn();
        return findings.Count == 0 && seen > 0 ? new Refusal("NOTHING_TO_DO", "No finding is another one than before.", "Change what was found, or go on to the kit list.")
            : new RecordFindings.Command(post.RequestId, post.Text("job"), findings, Seen: seen);
    }
}
