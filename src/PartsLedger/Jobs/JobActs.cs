using System.ComponentModel;
using GraphQL;
using PartsLedger.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>What the API can do with jobs, from intake to the accepted list.</summary>
public sealed class JobActs
{
    internal const string JobText = "The job's own number; case and spare spaces do not matter.";

    private JobActs() { }

    [Description("A job comes in. Stock that was reserved or pulled under its number is the job's.")]
    public static Task<Payload<JobActedView>> StartJob([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description("A number that no job has yet.")] string number, [Description("How far the job goes.")] JobScope scope,
        [Description("The tag of the core that is rebuilt; of an exchange the customer's core, when it is here already.")] string? core = null,
        [Description("A unit out of the shop's own parts goes out.")] bool exchange = false,
        [Description("Which variants it may be: one settles it, none leaves it open; the core's own when left out.")] IReadOnlyList<string>? variants = null,
        [Description("The customer's own reference.")] string? customerReference = null,
        [Description("The machine the pump comes from.")] string? machine = null,
        [Description("When it is due.")] DateOnly? dueOn = null, [Description("ORDINARY when left out.")] JobPriority? priority = null,
        [Description("The price that was promised.")] decimal? promisedPrice = null,
        [Description("Which comes first when the kit can be had in several ways; COST when left out.")] KitPreference? prefer = null,
        CancellationToken cancellation = default) =>
        Act(acting, promisedPrice.ToMoney().Then<StartJob.Command>(read => new StartJob.Command(requestId, number, scope, core, exchange,
            variants,
            customerReference, machine, dueOn, priority ?? JobPriority.Ordinary, read.Money, prefer ?? KitPreference.Cost)), cancellation);

    [Description("It is known which variant the pump is.")]
    public static Task<Payload<JobActedView>> SettleVariant([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobText)] string job, [Description("The variant's code.")] string variant,
        [Description("How it is known.")] string? why = null,
        CancellationToken cancellation = default) =>
        Act<SettleVariant.Command>(acting, new SettleVariant.Command(requestId, job, variant, why), cancellation);

    [Description("What tear-down showed, by position. A later finding takes the place of an earlier one, and the kit list must be accepted anew.")]
    public static Task<Payload<JobActedView>> RecordFindings([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobText)] string job, [Description("None means that nothing was found.")] IReadOnlyList<FindingInput> findings,
        [Description("A note.")] string? note = null,
        [Description("The highest `number` among the findings that were looked at, 0 for none: a later one at the same position is then not replaced unseen.")] long? seen = null,
        CancellationToken cancellation = default) =>
        Act<RecordFindings.Command>(acting, new RecordFindings.Command(requestId, job,
            [.. findings.Select(finding => new GradeCore.PositionFinding(finding.Position, finding.Finding, finding.Note))], note, seen),
            cancellation);

    [Description("The kit list that was shown becomes the job's. What the job had reserved beyond it is freed.")]
    public static Task<Payload<AcceptedListView>> AcceptList([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobText)] string job, [Description("The mark of the list that was shown: see `jobList`.")] string mark,
        [Description("Why; needed for a list that leaves something uncovered.")] string? why = null, CancellationToken cancellation =
        default) =>
        acting.Act<AcceptList.Command, AcceptList.Answer, AcceptedListView>(new AcceptList.Command(requestId, job, mark, why), answer =>
            new(answer), cancellation);

    [Description("A job is not finished. What it has reserved is free again; what it has in hand must be back first.")]
    public static Task<Payload<JobActedView>> CallOffJob([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobText)] string job, [Description("Why.")] string why, CancellationToken cancellation = default) =>
        Act<CallOffJob.Command>(acting, new CallOffJob.Command(requestId, job, why), cancellation);

    internal static Task<Payload<JobActedView>> Act<TAct>(Acting acting, Domain.Outcomes.Outcome<TAct> act, CancellationToken cancellation)
        where TAct : IAct<JobActed> => acting.Act<TAct, JobActed, JobActedView>(act, acted => new JobActedView(acted), cancellation);
}

/// <summary>What the API can be asked about jobs.</summary>
public sealed class JobFields
{
    private JobFields() { }

    [Description("One job, whole. An unknown number is an error that names the nearest known ones.")]
    public static async Task<JobView> Job([FromServices] Asking asking, [Description(JobActs.JobText)] string number,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<JobByNumber.Query, JobByNumber.Answer>(new(number), cancellation));

    [Description("Jobs in the order they came in.")]
    public static async Task<Connection<JobSummaryView>> Jobs([FromServices] Asking asking,
        [Description("Only in these states; every state when left out.")] IReadOnlyList<JobState>? states = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) => Connection.Of("jobs", (await asking.Answer<FindJobs.Query, Page<FindJobs.Summary>>(
            new(states, PageRequest.Read("jobs", first, after).OrRefuse()), cancellation)).Select(job => new JobSummaryView(job)));

    [Description("The kit list of a job as it would be accepted now, resolved with its findings, and what that would change. Changes nothing.")]
    public static async Task<JobListView> JobList([FromServices] Asking asking, [Description(JobActs.JobText)] string number,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<JobList.Query, JobList.Answer>(new(number), cancellation));
}
