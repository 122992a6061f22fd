using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Jobs;

/// <summary>What the API can do at the end of a job.</summary>
public sealed class ReleaseActs
{
    private ReleaseActs() { }

    [Description("The customer's core comes in for an exchange unit, before or after that has gone out.")]
    public static Task<Payload<JobActedView>> BringCore([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("The core's tag; it is taken in first.")] string core,
        CancellationToken cancellation = default) =>
        JobActs.Act<BringCore.Command>(acting, new BringCore.Command(requestId, job, core), cancellation);

    [Description("The pump goes out; refused with everything that is missing. From then on nothing about the job can be changed.")]
    public static Task<Payload<JobActedView>> ReleaseJob([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("A note.")] string? note = null, CancellationToken cancellation =
        default) =>
        JobActs.Act<ReleaseJob.Command>(acting, new ReleaseJob.Command(requestId, job, note), cancellation);
}

/// <summary>What the API can be asked about the past.</summary>
public sealed class HistoryFields
{
    private HistoryFields() { }

    [Description("The whole life of a core, a half, a pair or a job, across jobs.")]
    public static async Task<HistoryView> History([FromServices] Asking asking,
        [Description("A tag, a pair's code or a job's number.")] string tag, CancellationToken cancellation = default) =>
        new(await asking.Answer<History.Query, History.Answer>(new(tag, new PageRequest(1, null)), cancellation));

    [Description("Something was found to be bad: which jobs are concerned, what lies on the shelf, which kits hold it.")]
    public static async Task<RecallView> Recall([FromServices] Asking asking, [Description("What it starts from.")] RecallFrom from,
        [Description("The lot, part number, gauge or bench, or the number of the measurement.")] string code,
        [Description("The part that the lot is of; needed for a lot.")] string? part = null,
        [Description("Only what was measured or tested from then on; for a gauge or a bench.")] DateTimeOffset? since = null,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<Recall.Query, Recall.Answer>(new(from, code, part, since), cancellation));
}

[Name("History")]
[Description("The life of a thing.")]
public sealed class HistoryView(History.Answer answer)
{
    [Description("`job`, `core`, `pair`, `housing` or `valve`.")]
    public string Kind => answer.Kind;

    [Description("Its tag, code or number.")]
    public string Tag => answer.Tag;

    [Description("The jobs it was in, in the order they came in.")]
    public IReadOnlyList<string> Jobs => answer.Jobs;

    [Description("What happened, oldest first.")]
    public async Task<Connection<HistoryEntryView>> Entries([FromServices] Asking asking,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) => Connection.Of("history", (await asking.Answer<History.Query, History.Answer>(
            new(Tag, PageRequest.Read("history", first, after).OrRefuse()), cancellation)).Entries.Select(entry => new HistoryEntryView(entry)));
}

[Name("HistoryEntry")]
[Description("Something that happened.")]
public sealed class HistoryEntryView(History.Entry entry)
{
    [Description("When, in UTC.")]
    public DateTimeOffset At => entry.At;

    [Description("By whom.")]
    public string Who => entry.Who;

    [Description("What it happened to.")]
    public string About => entry.About;

    [Description("What happened, in one or two words.")]
    public string What => entry.What;

    [Description("The details.")]
    public string? Detail => entry.Detail;

    [Description("Why.")]
    public string? Why => entry.Why;
}

[Name("Recall")]
[Description("What a recall concerns.")]
public sealed class RecallView(Recall.Answer answer)
{
    [Description("What is recalled.")]
    public string What => answer.What;

    [Description("The jobs that have it, by number.")]
    public IEnumerable<RecalledJobView> Jobs => answer.Jobs.Select(job => new RecalledJobView(job));

    [Description("Pieces on the shelf.")]
    public IEnumerable<RecalledStockView> Stock => answer.Stock.Select(hit => new RecalledStockView(hit));

    [Description("Packs on the shelf that hold it.")]
    public IEnumerable<RecalledStockView> Kits => answer.Kits.Select(hit => new RecalledStockView(hit));

    [Description("Tagged halves that were measured, for a gauge or a measurement.")]
    public IEnumerable<RecalledUnitView> Units => answer.Units.Select(unit => new RecalledUnitView(unit));
}

[Name("RecalledJob")]
[Description("A job that a recall concerns.")]
public sealed class RecalledJobView(Recall.JobHit job)
{
    [Description("Its number.")]
    public string Job => job.Job;

    [Description("How far it is; null where stock was pulled under a number that no job has.")]
    public JobState? State => job.State;

    [Description("The customer's own reference.")]
    public string? CustomerReference => job.CustomerReference;

    [Description("When it was released, in UTC.")]
    public DateTimeOffset? ReleasedAt => job.ReleasedAt;

    [Description("What it has of it.")]
    public IReadOnlyList<string> Why => job.Why;
}

[Name("RecalledStock")]
[Description("Pieces on the shelf that a recall concerns.")]
public sealed class RecalledStockView(Recall.StockHit hit)
{
    [Description("The part's number, as written.")]
    public string Part => hit.Part;

    [Description("The lot.")]
    public string? Lot => hit.Lot;

    [Description("The place's code.")]
    public string Place => hit.Place;

    [Description("Their condition.")]
    public StockCondition Condition => hit.Condition;

    [Description("How many, in the part's unit.")]
    public decimal Quantity => hit.Quantity.ToDecimal();
}

[Name("RecalledUnit")]
[Description("A tagged half that a recall concerns.")]
public sealed class RecalledUnitView(Recall.UnitHit unit)
{
    [Description("Its tag.")]
    public string Tag => unit.Tag;

    [Description("The pair it is in.")]
    public string? Pair => unit.Pair;

    [Description("Its place, or what became of it.")]
    public string Where => unit.Where;

    [Description("The job it is kept for.")]
    public string? Job => unit.Job;
}

/// <summary>What a recall starts from, described for the API.</summary>
public sealed class RecallFromGraphType : EnumerationGraphType<RecallFrom>
{
    public RecallFromGraphType()
    {
        Name = "RecallFrom";
        Description = "What a recall starts from.";
        Values["LOT"]!.Description = "A lot, followed through splits, merges, kits and opened packs.";
        Values["PART"]!.Description = "A part, alone or in any pack.";
        Values["GAUGE"]!.Description = "A gauge that was found out of calibration.";
        Values["MEASUREMENT"]!.Description = "One measurement.";
        Values["BENCH"]!.Description = "A test bench.";
    }
}
