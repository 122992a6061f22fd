using System.Globalization;
using PartsLedger.Cores;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;
using PartsLedger.Jobs;
using PartsLedger.Kits;

namespace PartsLedger.Identification;

/// <summary>What the counter does: a job starts from what was found, a used pump is taken in with its deposit.</summary>
public static class CounterForms
{
    public const string JobPath = "/counter/job", CorePath = "/counter/core", QuotePath = "/counter/quote", GradePath = CorePath + "/grade",
        DepositPath = CorePath + "/deposit", EndPath = CorePath + "/end";

    public static void MapCounterForms(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(JobPath, (HttpContext http) => ShopPages.Page<StartJobPage>(http, (nameof(StartJobPage.Sheet), Sheet.Of(http.Request.Query))));
        routes.MapForm<StartJobPage>(JobPath, Start, post => [(nameof(StartJobPage.Sheet), Sheet.Of(post))]);
        routes.MapGet(CorePath, (HttpContext http) => ShopPages.Page<TakeInPage>(http, (nameof(TakeInPage.Sheet), Sheet.Of(http.Request.Query))));
        routes.MapForm<TakeInPage>(CorePath, TakeIn, post => [(nameof(TakeInPage.Sheet), Sheet.Of(post))]);
        Map<GradeCore.Command>(GradePath, (post, read) => new(post.RequestId, post.Text("core"), read.Word("grade", CoreGrade.Sound), [], post.TextIfGiven("note")));
        Map<SettleDeposit.Command>(DepositPath, (post, _) => new(post.RequestId, post.Text("core"), post.Text("deposit") == "back", post.TextIfGiven("why")));
        Map<EndCore.Command>(EndPath, (post, _) => new(post.RequestId, post.Text("core"), post.Text("end") == "back", post.Text("end-why")));

        // What is done with a pump that is here shows the pump again.
        void Map<TAct>(string path, Func<FormPost, FormReader, TAct> act) where TAct : IAct<CoreActed> => routes.MapForm<TakeInPage>(path, async (post, cancellation) =>
        {
            var read = new FormReader(post);
            return (await read.Send<TAct, CoreActed>(act(post, read), cancellation)).Then<string>(done => Sheet.Address(CorePath, ("taken", done.Tag)));
        }, post => [(nameof(TakeInPage.Sheet), Sheet.Of(post).With("taken", post.Text("core")))]);
    }

    /// <summary>Where a job starts from what was found: with one variant, or all that it may still be.</summary>
    public static string JobAddress(IEnumerable<string> variants, CounterQuestion asked) => Sheet.Address(JobPath, ("variants", string.Join(", ", variants)),
        ("scope", asked.Scope is { } scope ? Words.Of(scope) : null), ("machine", asked.As == "machine" ? asked.Text : null), ("prefer", Words.Of(asked.Prefer)));

    /// <summary>The quote on paper.</summary>
    public static string QuoteAddress(string variant, JobScope scope, CounterQuestion asked) =>
        Sheet.Address(QuotePath, ("variant", variant), ("scope", Words.Of(scope)), ("worn", asked.Worn), ("prefer", Words.Of(asked.Prefer)));

    /// <summary>The kit and the ways of helping, for what was asked at the counter.</summary>
    internal static async Task<Outcome<Jobs.Quote.Answer>> Quote(Asking asking, CounterQuestion asked, string variant, JobScope scope)
    {
        var worn = WornPositions.Read(asked.Worn);
        return worn.Succeeded ? await asking.Ask<Jobs.Quote.Query, Jobs.Quote.Answer>(new(null, variant, scope, worn.Result, asked.Prefer), default) : worn.Refusal;
    }

    private static async Task<Outcome<string>> Start(FormPost post, CancellationToken cancellation)
    {
        var read = new FormReader(post);
        var command = new StartJob.Command(post.RequestId, post.Text("number"), read.Word("scope", JobScope.Reseal), post.TextIfGiven("core"), post.Text("exchange") == "yes",
            [.. post.Text("variants").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)], post.TextIfGiven("customer"), post.TextIfGiven("machine"),
            read.DayIfGiven("due"), read.Word("priority", JobPriority.Ordinary), read.MoneyIfGiven("price"), read.Word("prefer", KitPreference.Cost));
        return (await read.Send<StartJob.Command, JobActed>(command, cancellation)).Then<string>(started => Sheet.Address("/bench", ("job", started.Job)));
    }

    private static async Task<Outcome<string>> TakeIn(FormPost post, CancellationToken cancellation)
    {
        var read = new FormReader(post);
        var command = new TakeInCore.Command(post.RequestId, post.Text("tag"), post.TextIfGiven("family"), post.TextIfGiven("variant"), post.TextIfGiven("serial"),
            post.TextIfGiven("condition"), read.DayIfGiven("received"), post.TextIfGiven("from"), read.MoneyIfGiven("deposit") ?? Money.Zero);
        return (await read.Send<TakeInCore.Command, CoreActed>(command, cancellation)).Then<string>(taken => Sheet.Address(CorePath, ("taken", taken.Tag)));
    }

    /// <summary>A day as it is written on the pages.</summary>
    public static string Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "";
}
