using System.Text.Json;
using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Data.Testing;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Testing;
using PartsLedger.Hosting;
using PartsLedger.Jobs;
using PartsLedger.Stock;

namespace PartsLedger.Testing;

/// <summary>
/// One run on the bench, judged by the class's limits and by what the fit leads one to expect. A repeat is another run. A class other than
/// the tag's stops the job.
/// </summary>
public static class RecordBenchRun
{
    /// <param name="Flows">At two speeds or more, each with its unit.</param>
    /// <param name="Relief">With its unit: "55.2 bar".</param>
    /// <param name="Leakage">Outward, per minute.</param>
    /// <param name="Valve">The metering valve's figures, where they are known: the expected flow follows from them.</param>
    /// <param name="Rejected">Why whoever tested it rejects it although the figures are good.</param>
    /// <param name="By">Who tested it; the sender when left out.</param>
    [Allowed(Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Job, string Bench, IReadOnlyList<Flow> Flows, string Relief, int OilMilliCelsius, Volume Leakage,
            int OilGrade = 32,
        string? Noise = null, string? Rejected = null, string? By = null, MeteringFigures? Valve = null) : IAct<Answer>;

    public sealed record Flow(int Rpm, string Litres);

    /// <summary>
    /// Areas in square millimetres, force in newtons, speeds a minute; see <see cref="MeteringValve"/>. Taken as known to three percent.
    /// </summary>
    public sealed record MeteringFigures(double FixedMm2, double OpenMm2, double NarrowedMm2, double SpringN, double SpoolEndMm2,
        double NarrowsFromRpm, double NarrowedAtRpm);

    public sealed record Answer(JobActed Acted, int Run, BenchVerdict Verdict, IReadOnlyList<string> Reasons);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Bench).Named("bench");
            RuleFor(c => c.Relief).Named("relief pressure");
            RuleFor(c => c.By).CodeIfGiven("tester's name");
            RuleFor(c => c.Noise).ShortText("note on noise");
            RuleFor(c => c.Rejected).ShortText("reason");
            RuleFor(c => c.Flows).Must(flows => flows.Count is >= 2 and <= 50 && flows.Select(flow => flow.Rpm).Distinct()
                .Count() == flows.Count).WithErrorCode("FLOWS_MISSING")
                .WithMessage("The flow is measured at a low and at a high speed at the least, at each speed once.")
                .WithState(_ => "Give the flow at both speeds.");
            RuleForEach(c => c.Flows).Must(flow => flow.Rpm is >= 50 and <= 10_000).WithErrorCode("SPEED_RANGE")
                .WithMessage((_, flow) => $"{flow.Rpm} a minute is no speed of a pump.").WithState(_ => "Give 50 to 10000 a minute.");
            RuleFor(c => c.OilMilliCelsius).InclusiveBetween(-40_000, 150_000).WithErrorCode("TEMPERATURE_RANGE")
                .WithMessage("That is no temperature of oil.").WithState(_ => "Give −40 to 150 °C.");
        }
    }

    /// <param name="Litres">By speed.</param>
    public sealed record Read(Pressure Relief, IReadOnlyList<BenchReading> Litres);

    /// <summary>Nothing goes on without its unit: a bare number is refused.</summary>
    public static Outcome<Read> Decide(Command act, JobStanding standing)
    {
        if (JobCourse.Refuse(standing, JobStep.Test) is { } refusal) return refusal;
        if (!PressureUnits.TryRead(act.Relief, null, out var relief, out var fault)) return Unreadable("relief pressure", act.Relief, fault,
            "55.2 bar");
        if (relief < Pressure.Zero) return Unreadable("relief pressure", act.Relief, MeasureFault.NotANumber, "55.2 bar");
        var readings = new List<BenchReading>();
        foreach (var flow in act.Flows)
        {
            if (!FlowUnits.TryRead(flow.Litres, null, out var volume, out fault)) return Unreadable("flow", flow.Litres, fault,
                "5.1 l/min");
            readings.Add(new(flow.Rpm, volume.Microlitres / 1_000_000m));
        }
        return new Read(relief, readings);
    }

    private static Refusal Unreadable(string what, string text, MeasureFault fault, string example) => fault switch
    {
        MeasureFault.NoUnit => new("UNIT_MISSING", $"The {what} '{text.Trim()}' has no unit.", $"Write it with its unit: {example}."),
        MeasureFault.UnknownUnit => new("WRONG_UNIT", $"The {what} '{text.Trim()}' has a unit that is none of its.",
        $"Write it like this: {example}."),
        _ => new("VALUE_UNREADABLE", $"The {what} '{text.Trim()}' cannot be read.", $"Write it like this: {example}."),
    };

    public sealed class Handler(
        LedgerContext db, JobDesk desk, JobStandings standings, CheckDesk checks, FlowReckoning reckoning) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var read = Decide(act, await standings.Of(job, context.Now, cancellation));
            if (!read.Succeeded) return read.Refusal;
            MeteringValve? valve = null;
            if (act.Valve is { } figures)
            {
                var made = Metering(figures);
                if (!made.Succeeded) return made.Refusal;
                valve = made.Result;
            }
            var expected = await reckoning.At([.. read.Result.Litres.Select(reading => reading.RevolutionsPerMinute)], job, act.OilMilliCelsius, act.OilGrade, valve, cancellation);
            var classes = (await db.PressureClasses.AsNoTracking().OrderBy(row => row.Code).ToListAsync(cancellation))
                .ConvertAll(row => (row.Id, Limits: new ClassLimits(row.Code, row.Relief, row.Minus, row.Plus)));
            var ofClass = job.Variant!.PressureClassId;
            var own = classes.Single(one => one.Id == ofClass).Limits;
            var judged = BenchJudgement.Of(own, [.. classes.Where(one => one.Limits != own).Select(one => one.Limits)], read.Result.Relief,
                read.Result.Litres, expected, act.Leakage, act.Rejected);

            var run = new BenchRunRow
            {
                JobId = job.Id, Run = (await checks.Runs(job.Id, cancellation)).Count + 1, Assembly = job.Assembly,
                Bench = act.Bench.Trim(), BenchKey = Code.KeyOf(act.Bench),
                OilMilliCelsius = act.OilMilliCelsius, OilGrade = act.OilGrade, Relief = read.Result.Relief, Leakage = act.Leakage,
                Noise = act.Noise, Rejected = act.Rejected,
                PressureClassId = ofClass, Verdict = judged.Verdict, Reasons = judged.Reasons.Count == 0 ? null
                : string.Join("; ", judged.Reasons),
                Expected = JsonSerializer.Serialize(expected, ShopJson.Options), At = context.Now,
                TestedBy = string.IsNullOrWhiteSpace(act.By) ? context.Caller.Name : act.By.Trim(),
                Who = context.Caller.Name, RequestId = act.RequestId,
            };
            run.Readings.AddRange(read.Result.Litres.Select(reading => new BenchReadingRow { Rpm = reading.RevolutionsPerMinute,
                Flow = Volume.FromMicrolitres((long)(reading.LitresPerMinute * 1_000_000)) }));
            db.BenchRuns.Add(run);
            job.State = judged.Verdict == BenchVerdict.Passed ? JobState.Tested : JobState.Assembled;
            job.Stopped = judged.Verdict == BenchVerdict.WrongClass ? $"on bench {run.Bench} {judged.Reasons[0]}" : null;
            job.Version++;
            desk.Write(context, act.RequestId, job, "bench",
                $"run {run.Run} on {run.Bench}: {Words.Of(judged.Verdict).Replace('-', ' ')}{(run.Reasons is null ? "" : $": {run.Reasons}")}", act.Rejected);
            return new Answer(new JobActed(job.Number, job.State, Say(job, judged)), run.Run, judged.Verdict, judged.Reasons);
        }

        private static string Say(JobRow job, BenchJudgement judged) => judged.Verdict switch
        {
            BenchVerdict.Passed => $"Job {job.Number} has passed on the bench.",
            BenchVerdict.WrongClass =>
            $"STOP: WRONG PRESSURE CLASS in job {job.Number}: {judged.Reasons[0]}. Nothing goes on until a supervisor has looked at it.",
            _ => $"Job {job.Number} has not passed: {string.Join("; ", judged.Reasons)}.",
        };
    }

    private static Outcome<MeteringValve> Metering(MeteringFigures figures)
    {
        foreach (var number in (ReadOnlySpan<double>)[figures.FixedMm2, figures.OpenMm2, figures.NarrowedMm2, figures.SpringN,
            figures.SpoolEndMm2, figures.NarrowsFromRpm, figures.NarrowedAtRpm])
            if (!double.IsFinite(number) || Math.Abs(number) > 1e9) return new Refusal("NUMBER_RANGE",
                "A figure is no number that a valve has.", "Check it and its unit.");
        return MeteringValve.Of(new MeteringOrifices(Orifice.SharpEdged, Band.Percent(figures.FixedMm2, 3),
            Band.Percent(figures.OpenMm2, 3), Band.Percent(figures.NarrowedMm2, 3),
            figures.NarrowsFromRpm, figures.NarrowedAtRpm), Band.Percent(figures.SpringN, 3), Band.Percent(figures.SpoolEndMm2, 3),
                Band.Percent(850, 2));
    }
}
