using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Jobs;

namespace PartsLedger.Testing;

[Name("CheckRecorded")]
[Description("What a check came to.")]
public sealed class CheckRecordedView(RecordCheck.Answer answer)
{
    [Description("What was done.")]
    public string Done => answer.Acted.Done;

    [Description("What it came to.")]
    public CheckResult Result => answer.Result;
}

[Name("BenchRecorded")]
[Description("What a run on the bench came to.")]
public sealed class BenchRecordedView(RecordBenchRun.Answer answer)
{
    [Description("What was done.")]
    public string Done => answer.Acted.Done;

    [Description("Which run of the job it is, from 1.")]
    public int Run => answer.Run;

    [Description("What it came to.")]
    public BenchVerdict Verdict => answer.Verdict;

    [Description("Why it has not passed; empty when it has.")]
    public IReadOnlyList<string> Reasons => answer.Reasons;
}

[Name("BenchFlow")]
[Description("A flow read off the bench.")]
public sealed class BenchFlowInput
{
    [Description("The speed, a minute.")]
    public int Rpm { get; set; }

    [Description("The flow with its unit: `5.1 l/min`.")]
    public string Flow { get; set; } = "";
}

[Name("MeteringFigures")]
[Description("Figures of a two-stage metering valve, taken as known to three percent.")]
public sealed class MeteringFiguresInput
{
    [Description("Area of the fixed orifice in square millimetres.")]
    public double FixedMm2 { get; set; }

    [Description("Area of the second orifice while nothing narrows it, in square millimetres.")]
    public double OpenMm2 { get; set; }

    [Description("Area of the second orifice at high speed, in square millimetres.")]
    public double NarrowedMm2 { get; set; }

    [Description("Force of the valve's spring where it regulates, in newtons.")]
    public double SpringN { get; set; }

    [Description("Area of the spool's end in square millimetres.")]
    public double SpoolEndMm2 { get; set; }

    [Description("Speed at which the second orifice begins to narrow, a minute.")]
    public double NarrowsFromRpm { get; set; }

    [Description("Speed at which it is narrowed, a minute.")]
    public double NarrowedAtRpm { get; set; }
}

[Name("JobTesting")]
[Description("A job's checks and its runs on the bench.")]
public sealed class JobTestingView(BenchRuns.Answer answer)
{
    [Description("The job's own number.")]
    public string Job => answer.Job;

    [Description("In the order of the work.")]
    public IEnumerable<JobCheckView> Checks => answer.Checks.Select(check => new JobCheckView(check));

    [Description("First to last.")]
    public IEnumerable<BenchRunView> Runs => answer.Runs.Select(run => new BenchRunView(run));
}

[Name("JobCheck")]
[Description("A check of a job and what it last came to.")]
public sealed class JobCheckView(CheckOfJob check)
{
    [Description("Its place in the order of work.")]
    public int Sequence => check.Check.Sequence;

    [Description("Grows with every result, 0 for none; see `recordCheck`.")]
    public long Number => check.Last?.Id ?? 0;

    [Description("What to check.")]
    public string Text => check.Check.Text;

    [Description("What should be found, in words.")]
    public string? Expected => check.Check.Expected;

    [Description("The unit of its values.")]
    public string? Unit => check.Check.Unit;

    [Description("Lowest acceptable value.")]
    public decimal? Low => check.Check.Low;

    [Description("Highest acceptable value.")]
    public decimal? High => check.Check.High;

    [Description("What it last came to; null while nothing is written down.")]
    public CheckResult? Result => check.Last?.Result;

    [Description("The value in the check's unit.")]
    public decimal? Value => check.Last?.ValueMillionths / 1_000_000m;

    [Description("The value as it was given.")]
    public string? Given => check.Last?.Given;

    [Description("A note, or why it was skipped.")]
    public string? Note => check.Last?.Why;

    [Description("Who did it.")]
    public string? Who => check.Last?.Who;

    [Description("The supervisor who signed it, where it failed or was skipped.")]
    public string? SignedBy => check.Last?.Signature?.Who;

    [Description("Why it was signed.")]
    public string? SignedWhy => check.Last?.Signature?.Why;
}

[Name("BenchRun")]
[Description("A run on the bench.")]
public sealed class BenchRunView(BenchRuns.Run run)
{
    [Description("Which of the job's runs, from 1.")]
    public int Number => run.Number;

    [Description("Which bench.")]
    public string Bench => run.Bench;

    [Description("Who tested it.")]
    public string TestedBy => run.TestedBy;

    [Description("When, in UTC.")]
    public DateTimeOffset At => run.At;

    [Description("Where the relief opened, in kilopascals.")]
    public decimal ReliefKpa => run.Relief.ToKilopascals();

    [Description("The oil's temperature in degrees Celsius.")]
    public decimal OilTemperatureC => run.OilCelsius;

    [Description("Outward leakage in millilitres a minute.")]
    public decimal LeakageMlPerMin => run.Leakage.Microlitres / 1000m;

    [Description("What it sounded like.")]
    public string? Noise => run.Noise;

    [Description("The class it was judged by.")]
    public string PressureClass => run.PressureClass;

    [Description("What it came to.")]
    public BenchVerdict Verdict => run.Verdict;

    [Description("Why it has not passed.")]
    public string? Reasons => run.Reasons;

    [Description("It was tested as it is assembled now; earlier runs no longer count.")]
    public bool Counts => run.Counts;

    [Description("Measured, by speed.")]
    public IEnumerable<BenchPointView> Flows => run.Flows.Select(flow => new BenchPointView(flow.RevolutionsPerMinute, flow.LitresPerMinute,
        flow.LitresPerMinute, flow.LitresPerMinute));

    [Description("Expected, by speed; empty where the family does not state its displacement.")]
    public IEnumerable<BenchPointView> Expected =>
        run.Expected.Select(flow => new BenchPointView(flow.RevolutionsPerMinute, flow.LitresPerMinute, flow.Low, flow.High));
}

[Name("BenchPoint")]
[Description("A flow at a speed.")]
public sealed class BenchPointView(double rpm, double value, double low, double high)
{
    [Description("The speed, a minute.")]
    public double Rpm => rpm;

    [Description("Litres a minute.")]
    public double LitresPerMinute => value;

    [Description("The least that is expected; the value itself where it was measured.")]
    public double Low => low;

    [Description("The most that is expected; the value itself where it was measured.")]
    public double High => high;
}

/// <summary>What a check came to, described for the API.</summary>
public sealed class CheckResultGraphType : EnumerationGraphType<CheckResult>
{
    public CheckResultGraphType()
    {
        Name = "CheckResult";
        Description = "What a check came to.";
        Values["PASSED"]!.Description = "As it should be.";
        Values["FAILED"]!.Description = "Not as it should be: signed by a supervisor, or the pump is not released.";
        Values["SKIPPED"]!.Description = "Not done, for a reason: signed by a supervisor, or the pump is not released.";
    }
}

/// <summary>What a run on the bench came to, described for the API.</summary>
public sealed class BenchVerdictGraphType : EnumerationGraphType<BenchVerdict>
{
    public BenchVerdictGraphType()
    {
        Name = "BenchVerdict";
        Description = "What a run on the bench came to.";
        Values["PASSED"]!.Description = "Within the class and as expected.";
        Values["FAILED"]!.Description = "Not as expected: look for the cause, and test again.";
        Values["WRONG_CLASS"]!.Description = "The pump is of another class than its tag says. Everything stops.";
    }
}
