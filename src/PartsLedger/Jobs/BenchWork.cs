using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting.Pages;
using PartsLedger.Testing;

namespace PartsLedger.Jobs;

/// <summary>The bench's forms from measuring to release.</summary>
internal static class BenchWork
{
    internal static void MapBenchWork(this IEndpointRouteBuilder routes)
    {
        BenchPages.Map(routes, "/bench/measure", "measure", "measure", (post, cancellation) => BenchPages.Send<RecordMeasurements.Command, RecordMeasurements.Answer>(post,
            post.MilliCelsius("celsius").Then<RecordMeasurements.Command>(celsius => new RecordMeasurements.Command(post.RequestId,
                [new(post.Text("unit"), post.Text("gauge"), celsius, post.Text("readings"))])), cancellation));
        BenchPages.Map(routes, "/bench/hold", "pairs", "pairs", (post, cancellation) => BenchPages.Send<HoldProposal.Command, HoldProposal.Answer>(post,
            new HoldProposal.Command(post.RequestId, post.Text("family"), post.TextIfGiven("class")), cancellation));
        BenchPages.Map(routes, "/bench/accept/{proposal:long}", "pairs", "pairs", (post, cancellation) => BenchPages.Send<AcceptProposal.Command, AcceptProposal.Answer>(post,
            new AcceptProposal.Command(post.RequestId, post.InAddress("proposal"), post.Text("place"), post.All("housing") is { Count: > 0 } some ? some : null), cancellation));
        BenchPages.Map(routes, "/bench/let-go/{proposal:long}", "pairs", "pairs", (post, cancellation) => BenchPages.Send<LetProposalGo.Command, UnitActed>(post,
            new LetProposalGo.Command(post.RequestId, post.InAddress("proposal")), cancellation));
        BenchPages.Map(routes, "/bench/release-pair", "pairs", "pairs", (post, cancellation) => BenchPages.Send<ReleasePair.Command, UnitActed>(post,
            new ReleasePair.Command(post.RequestId, post.Text("pair")), cancellation));

        BenchPages.Map(routes, "/bench/fit-pair", "assemble", "assemble", (post, cancellation) => BenchPages.Send<FitPairIntoPump.Command, JobActed>(post, FitPair(post), cancellation));
        BenchPages.Map(routes, "/bench/check/{sequence:int}", "assemble", "assemble", (post, cancellation) => BenchPages.Send<RecordCheck.Command, RecordCheck.Answer>(post,
            post.Number("value").Then<RecordCheck.Command>(value => new RecordCheck.Command(post.RequestId, post.Text("job"), (int)post.InAddress("sequence"), value.Number,
                value.Number is null ? null : post.TextIfGiven("unit"), post.Text("passed") switch { "yes" => true, "no" => false, _ => null }, post.TextIfGiven("skip"),
                post.TextIfGiven("note"), post.SeenIn())), cancellation));
        BenchPages.Map(routes, "/bench/sign/{sequence:int}", "assemble", "assemble", (post, cancellation) => BenchPages.Send<SignCheck.Command, JobActed>(post,
            new SignCheck.Command(post.RequestId, post.Text("job"), (int)post.InAddress("sequence"), post.Text("why")), cancellation));
        BenchPages.Map(routes, "/bench/finish", "assemble", "test", (post, cancellation) => BenchPages.Send<FinishAssembly.Command, JobActed>(post,
            new FinishAssembly.Command(post.RequestId, post.Text("job")), cancellation));
        BenchPages.Map(routes, "/bench/run", "test", "test", (post, cancellation) => BenchPages.Send<RecordBenchRun.Command, RecordBenchRun.Answer>(post, Run(post), cancellation));
        BenchPages.Map(routes, "/bench/open", "test", "assemble", (post, cancellation) => BenchPages.Send<OpenAgain.Command, JobActed>(post,
            new OpenAgain.Command(post.RequestId, post.Text("job"), post.Text("why")), cancellation));
        BenchPages.Map(routes, "/bench/release", "release", "release", (post, cancellation) => BenchPages.Send<ReleaseJob.Command, JobActed>(post,
            new ReleaseJob.Command(post.RequestId, post.Text("job"), post.TextIfGiven("note")), cancellation));
        BenchPages.Map(routes, "/bench/call-off", "release", "release", (post, cancellation) => BenchPages.Send<CallOffJob.Command, JobActed>(post,
            new CallOffJob.Command(post.RequestId, post.Text("job"), post.Text("why")), cancellation));
    }

    private static Outcome<FitPairIntoPump.Command> FitPair(FormPost post)
    {
        var (shims, stack) = (post.Number("shims"), post.Millimetres("stack"));
        if (!shims.Succeeded) return shims.Refusal;
        if (!stack.Succeeded) return stack.Refusal;
        if (shims.Result.Number is not { } count || stack.Result.Nanometres is not { } thick)
            return new Refusal("SHIMS_MISSING", "The shims are not counted or not measured.", "Count them and measure the stack: none is 0, and 0 mm.");
        return new FitPairIntoPump.Command(post.RequestId, post.Text("job"), post.Text("housing"), post.Text("valve"), (int)decimal.Round(count), thick);
    }

    private static Outcome<RecordBenchRun.Command> Run(FormPost post)
    {
        var flows = new List<RecordBenchRun.Flow>();
        for (var at = 1; at <= BenchPages.Speeds; at++)
        {
            if (post.Text($"rpm-{at}").Length + post.Text($"flow-{at}").Length == 0) continue;
            var rpm = post.Number($"rpm-{at}");
            if (!rpm.Succeeded) return rpm.Refusal;
            flows.Add(new((int)decimal.Round(rpm.Result.Number ?? 0), post.Text($"flow-{at}")));
        }
        var (oil, leakage, grade) = (post.MilliCelsius("oil"), post.Number("leakage"), post.Number("grade"));
        if (!oil.Succeeded) return oil.Refusal;
        if (!leakage.Succeeded) return leakage.Refusal;
        if (!grade.Succeeded) return grade.Refusal;
        if (leakage.Result.Number is < 0) return new Refusal("LEAKAGE_RANGE", "No leakage is below zero.", "Give zero or more millilitres a minute.");
        return new RecordBenchRun.Command(post.RequestId, post.Text("job"), post.Text("bench"), flows, post.Text("relief"), oil.Result,
            Volume.FromMicrolitres((long)((leakage.Result.Number ?? 0) * 1000)), (int)(grade.Result.Number ?? 32), post.TextIfGiven("noise"), post.TextIfGiven("rejected"));
    }
}
