using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Jobs;

namespace PartsLedger.Testing;

/// <summary>What the API can do with a pump from the bench vice to the test bench.</summary>
public sealed class TestingActs
{
    private TestingActs() { }

    [Description("The matched pair goes into the pump: both tags scanned, the shims counted and measured again and as they were found.")]
    public static Task<Payload<JobActedView>> FitPairIntoPump([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("The housing's tag.")] string housing,
        [Description("The valve's tag.")] string valve,
        [Description("Shims under the relief spring, as fitted.")] int shimCount,
        [Description("Thickness of the stack in millimetres, as fitted.")] decimal shimStackMm,
        CancellationToken cancellation = default) => JobActs.Act<FitPairIntoPump.Command>(acting,
            new FitPairIntoPump.Command(requestId, job, housing, valve, shimCount, FitActs.Nanometres(shimStackMm)), cancellation);

    [Description("What a check came to: a value with its unit, judged by the check's limits; what was seen; or why it is skipped.")]
    public static Task<Payload<CheckRecordedView>> RecordCheck([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("The check's place in the order of work.")] int sequence,
        [Description("The measured value.")] decimal? value = null,
        [Description("The value's unit.")] string? unit = null,
        [Description("Whether it passed, where the check has no limits.")] bool? passed = null,
        [Description("It is not done, and why.")] string? skippedWhy = null, [Description("A note.")] string? note = null,
        [Description("The `number` of the last result that was looked at, 0 for none: a later one is then not replaced unseen.")] long? seen = null,
        CancellationToken cancellation = default) =>
        acting.Act<RecordCheck.Command, RecordCheck.Answer,
            CheckRecordedView>(new RecordCheck.Command(requestId, job, sequence, value, unit, passed, skippedWhy, note, seen), answer =>
            new(answer), cancellation);

    [Description("A supervisor lets a failed or skipped check pass, for a reason.")]
    public static Task<Payload<JobActedView>> SignCheck([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("The check's place in the order of work.")] int sequence,
        [Description("Why.")] string why,
        CancellationToken cancellation = default) =>
        JobActs.Act<SignCheck.Command>(acting, new SignCheck.Command(requestId, job, sequence, why), cancellation);

    [Description("The pump is together; refused with everything that is missing.")]
    public static Task<Payload<JobActedView>> FinishAssembly([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, CancellationToken cancellation = default) =>
        JobActs.Act<FinishAssembly.Command>(acting, new FinishAssembly.Command(requestId, job), cancellation);

    [Description("An assembled pump is opened again: its pair must be scanned in anew and tested anew. A supervisor lifts a stop this way.")]
    public static Task<Payload<JobActedView>> OpenAgain([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("Why.")] string why, CancellationToken cancellation = default) =>
        JobActs.Act<OpenAgain.Command>(acting, new OpenAgain.Command(requestId, job, why), cancellation);

    [Description("One run on the bench, judged by the class's limits and by what the fit leads one to expect. Another class than the tag's stops the job.")]
    public static Task<Payload<BenchRecordedView>> RecordBenchRun([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("Which bench.")] string bench,
        [Description("At a low and at a high speed at the least.")] IReadOnlyList<BenchFlowInput> flows,
        [Description("Where the relief opens, with its unit: `55.2 bar`.")] string relief,
        [Description("The oil's temperature in degrees Celsius.")] decimal oilTemperatureC,
        [Description("Outward, in millilitres a minute; none when left out.")] decimal leakageMlPerMin = 0,
        [Description("ISO viscosity grade of the oil.")] int oilGrade = 32,
        [Description("What it sounds like.")] string? noise = null,
        [Description("Why the tester rejects it although the figures are good.")] string? rejected = null,
        [Description("Who tested it; the sender when left out.")] string? by = null,
        [Description("The metering valve's figures, where they are known.")] MeteringFiguresInput? valve = null,
        CancellationToken cancellation = default)
    {
        return acting.Act<RecordBenchRun.Command, RecordBenchRun.Answer, BenchRecordedView>(Write(), answer => new(answer), cancellation);

        Outcome<RecordBenchRun.Command> Write() => leakageMlPerMin is < 0 or > 1_000_000
            ? new Refusal("LEAKAGE_RANGE", $"{leakageMlPerMin} ml a minute is no leakage.", "Give zero or more millilitres a minute.")
            : new RecordBenchRun.Command(requestId, job, bench, [.. flows.Select(flow => new RecordBenchRun.Flow(flow.Rpm, flow.Flow))],
                relief,
                (int)Math.Clamp(decimal.Round(Math.Clamp(oilTemperatureC, -1_000_000m, 1_000_000m) * 1000), int.MinValue, int.MaxValue),
                Volume.FromMicrolitres((long)(leakageMlPerMin * 1000)), oilGrade, noise, rejected, by,
                valve is null ? null : new RecordBenchRun.MeteringFigures(valve.FixedMm2, valve.OpenMm2, valve.NarrowedMm2, valve.SpringN,
                valve.SpoolEndMm2, valve.NarrowsFromRpm, valve.NarrowedAtRpm));
    }
}

/// <summary>What the API can be asked about checks and bench results.</summary>
public sealed class TestingFields
{
    private TestingFields() { }

    [Description("A job's checks with what they came to, and its runs on the bench.")]
    public static async Task<JobTestingView> JobTesting([FromServices] Asking asking, [Description(JobActs.JobText)] string number,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<BenchRuns.Query, BenchRuns.Answer>(new(number), cancellation));
}
