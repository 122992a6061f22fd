using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting.Pages;
using PartsLedger.Testing;
using static PartsLedger.Jobs.BenchPages;

namespace PartsLedger.Jobs;

/// <summary>The bench's forms from measuring to release.</summary>
internal static class BenchWork
{
    internal static void MapBenchWork(this IEndpointRouteBuilder routes)
    {
        Map<RecordMeasurements.Command, RecordMeasurements.Answer>(routes, "/bench/measure", "measure", "measure", (post, read) =>
            new(post.RequestId, [new(post.Text("unit"), post.Text("gauge"), read.MilliCelsius("celsius"), read.Readings("readings"))]));
        routes.MapGet(MeasureTry.Path, Try);
        Map<HoldProposal.Command, HoldProposal.Answer>(routes, "/bench/hold", "pairs", "pairs", (post, read) => new(post.RequestId, post.Text("family"), post.TextIfGiven("class")));
        Map<AcceptProposal.Command, AcceptProposal.Answer>(routes, "/bench/accept/{proposal:long}", "pairs", "pairs", (post, read) =>
            new(post.RequestId, read.InAddress("proposal"), post.Text("place"), post.All("housing") is { Count: > 0 } some ? some : null));
        Map<LetProposalGo.Command, UnitActed>(routes, "/bench/let-go/{proposal:long}", "pairs", "pairs", (post, read) => new(post.RequestId, read.InAddress("proposal")));
        Map<ReleasePair.Command, UnitActed>(routes, "/bench/release-pair", "pairs", "pairs", (post, read) => new(post.RequestId, post.Text("pair")));
        Map<ConfirmShims.Command, UnitActed>(routes, "/bench/shims", "pairs", "pairs", CountShims);
        Map<CondemnUnit.Command, UnitActed>(routes, "/bench/condemn", "pairs", "pairs", (post, read) =>
            new(post.RequestId, post.Text("tag"), post.Text("why"), post.TextIfGiven("other"), post.TextIfGiven("place") is null, post.TextIfGiven("place")));
        Map<TakePairApart.Command, UnitActed>(routes, "/bench/apart", "pairs", "pairs", (post, read) =>
            new(post.RequestId, post.Text("pair"), post.Text("place"), post.Text("why")));
        Map<ReRateValve.Command, UnitActed>(routes, "/bench/class", "pairs", "pairs", ReRate);

        Map<FitPairIntoPump.Command, JobActed>(routes, "/bench/fit-pair", "assemble", "assemble", FitPair);
        Map<RecordCheck.Command, RecordCheck.Answer>(routes, "/bench/check/{sequence:int}", "assemble", "assemble", Check);
        Map<SignCheck.Command, JobActed>(routes, "/bench/sign/{sequence:int}", "assemble", "assemble", (post, read) =>
            new(post.RequestId, post.Text("job"), (int)read.InAddress("sequence"), post.Text("why")));
        Map<FinishAssembly.Command, JobActed>(routes, "/bench/finish", "assemble", "test", (post, read) => new(post.RequestId, post.Text("job")));
        Map<RecordBenchRun.Command, RecordBenchRun.Answer>(routes, "/bench/run", "test", "test", Run);
        Map<OpenAgain.Command, JobActed>(routes, "/bench/open", "test", "assemble", (post, read) => new(post.RequestId, post.Text("job"), post.Text("why")));
        Map<ReleaseJob.Command, JobActed>(routes, "/bench/release", "release", "release", (post, read) => new(post.RequestId, post.Text("job"), post.TextIfGiven("note")));
        Map<CallOffJob.Command, JobActed>(routes, "/bench/call-off", "release", "release", (post, read) => new(post.RequestId, post.Text("job"), post.Text("why")));
    }

    // Without any of these there is nothing to judge yet.
    private static readonly string[] Needed = ["unit", "readings", "celsius", "gauge"];

    /// <summary>The form's fields as they stand while somebody types: read as they will be when it is sent.</summary>
    private static async Task<IResult> Try(HttpContext http, CurrentFormat format, CancellationToken cancellation)
    {
        await format.Read(cancellation);
        var post = new FormPost(http, new FormCollection(http.Request.Query.ToDictionary()));
        if (Needed.Any(name => post.TextIfGiven(name) is null)) return ShopPages.Page<MeasureTry>(http);
        var read = new FormReader(post);
        var asked = new JudgeReadings.Query(post.Text("unit"), post.Text("gauge"), read.MilliCelsius("celsius"), read.Readings("readings"), post.TextIfGiven("with"));
        return ShopPages.Page<MeasureTry>(http, (nameof(MeasureTry.Asked), read.Refusal is { } refusal ? (Outcome<JudgeReadings.Query>)refusal : asked));
    }

    private static FitPairIntoPump.Command FitPair(FormPost post, FormReader read)
    {
        var (shims, stack) = Shims(read);
        return new(post.RequestId, post.Text("job"), post.Text("housing"), post.Text("valve"), shims, stack.Nanometres);
    }

    /// <summary>What was never recorded is recorded; that they are still as they came is said with the pair in the pump.</summary>
    private static ConfirmShims.Command CountShims(FormPost post, FormReader read)
    {
        var (shims, stack) = Shims(read);
        return new(post.RequestId, post.Text("valve"), shims, stack.Nanometres, Record: true);
    }

    private static ReRateValve.Command ReRate(FormPost post, FormReader read)
    {
        var (shims, stack) = Shims(read);
        return new(post.RequestId, post.Text("valve"), post.Text("class"), read.Pascals("relief"), post.Text("bench"), shims, stack.Nanometres, post.Text("why"));
    }

    private static (int Count, Length Stack) Shims(FormReader read)
    {
        var (shims, stack) = (read.WholeIfGiven("shims"), read.LengthIfGiven("stack"));
        if (shims is null || stack is null) read.Refuse(new("SHIMS_MISSING", "The shims are not counted or not measured.", "Count them and measure the stack: none is 0, and 0 mm."));
        return (shims ?? 0, stack ?? Length.Zero);
    }

    private static RecordCheck.Command Check(FormPost post, FormReader read)
    {
        var value = read.NumberIfGiven("value");
        return new(post.RequestId, post.Text("job"), (int)read.InAddress("sequence"), value, value is null ? null : post.TextIfGiven("unit"),
            post.Text("passed") switch { "yes" => true, "no" => false, _ => null }, post.TextIfGiven("skip"), post.TextIfGiven("note"), read.Seen());
    }

    private static RecordBenchRun.Command Run(FormPost post, FormReader read)
    {
        var flows = new List<RecordBenchRun.Flow>();
        for (var at = 1; at <= Speeds; at++)
            if (post.Text($"rpm-{at}").Length + post.Text($"flow-{at}").Length > 0) flows.Add(new(read.WholeIfGiven($"rpm-{at}") ?? 0, read.Flow($"flow-{at}")));
        var leakage = read.NumberIfGiven("leakage") ?? 0;
        if (leakage < 0) read.Refuse(new("LEAKAGE_RANGE", "No leakage is below zero.", "Give zero or more millilitres a minute."));
        return new(post.RequestId, post.Text("job"), post.Text("bench"), flows, read.Pressure("relief"), read.MilliCelsius("oil"),
            Volume.FromMicrolitres((long)(Math.Max(leakage, 0) * Volume.MicrolitresPerCubicCentimetre)), read.WholeIfGiven("grade") ?? 32, post.TextIfGiven("noise"), post.TextIfGiven("rejected"));
    }
}
