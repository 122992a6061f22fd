using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>What the API can do with a job's parts: from the accepted list to the bench, and back.</summary>
public sealed class PullActs
{
    private const string PartText = "The part's number; case, spaces, dashes, dots and slashes do not matter.";

    private PullActs() { }

    [Description("What the accepted list asks for, and the job neither has nor has reserved, is reserved.")]
    public static Task<Payload<ReservedListView>> ReserveList([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job,
        [Description("What happens when not everything is free; ALL_OR_NOTHING when left out.")] ReserveRule? rule = null,
        [Description("When the pieces free up again; 14 days from now when left out, at most 366.")] DateTimeOffset? expiresAt = null,
        CancellationToken cancellation = default) => acting.Act<ReserveList.Command, ReserveForJob.Answer, ReservedListView>(
            new ReserveList.Command(requestId, job, rule ?? ReserveRule.AllOrNothing, expiresAt), answer => new(answer), cancellation);

    [Description("What was fetched is scanned and booked to the job; a wrong part, lot, class or half of a pair is refused with what to fetch instead.")]
    public static Task<Payload<PulledForJobView>> PullForJob([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("A part's number, or the tag of one half of a pair.")] string scan,
        [Description("The lot on the bag; needed where the part is tracked by lot.")] string? lot = null,
        [Description("How many; what the pull list says for that lot when left out.")] decimal? quantity = null,
        [Description("The tag of the pair's other half.")] string? with = null, CancellationToken cancellation = default) =>
        acting.Act<PullForJob.Command, PullForJob.Answer, PulledForJobView>(
            quantity is not { } number ? new PullForJob.Command(requestId, job, scan, lot, null, with)
                : number.ToQuantity().Then<PullForJob.Command>(read => new PullForJob.Command(requestId, job, scan, lot, read, with)),
                    answer => new(answer), cancellation);

    [Description("Pieces of the list stay short, or another part takes their place and is then on the pull list.")]
    public static Task<Payload<JobActedView>> PutShort([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description(PartText)] string part, [Description("How many.")] decimal quantity,
        [Description("Why.")] string why,
        [Description("The part that takes their place.")] string? substitute = null,
        [Description("How many of it; as many as are short when left out.")] decimal? substituteQuantity = null,
        CancellationToken cancellation = default)
    {
        return JobActs.Act(acting, Write(), cancellation);

        Outcome<PutShort.Command> Write()
        {
            var read = quantity.ToQuantity();
            if (!read.Succeeded) return read.Refusal;
            if (substituteQuantity is not { } number) return new PutShort.Command(requestId, job, part, read.Result, why, substitute);
            return number.ToQuantity()
                .Then<PutShort.Command>(of => new PutShort.Command(requestId, job, part, read.Result, why, substitute, of));
        }
    }

    [Description("What a job pulled and did not use goes back into stock, worth what it left with.")]
    public static Task<Payload<JobActedView>> GiveBack([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description(PartText)] string part, [Description("How many.")] decimal quantity,
        [Description("The place they go to.")] string to,
        [Description("As they are now; NEW when left out.")] StockCondition? condition = null,
        [Description("The lot; needed where the part is tracked by lot.")] string? lot = null,
        [Description("Why.")] string? why = null, CancellationToken cancellation = default) =>
        JobActs.Act(acting, quantity.ToQuantity().Then<GiveBack.Command>(read =>
            new GiveBack.Command(requestId, job, part, read, to, condition ?? StockCondition.New, lot, why)), cancellation);

    [Description("Pieces out of packs that the job does not need: what is sold by itself goes into stock as loose parts, the rest is kept with the kit.")]
    public static Task<Payload<SurplusReturnedView>> ReturnSurplus([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(JobActs.JobText)] string job, [Description("The place the loose pieces go to.")] string to,
        CancellationToken cancellation = default) =>
        acting.Act<ReturnSurplus.Command, ReturnSurplus.Answer, SurplusReturnedView>(new ReturnSurplus.Command(requestId, job, to),
            answer => new(answer), cancellation);
}

/// <summary>What the API can be asked about fetching parts for a job.</summary>
public sealed class PullFields
{
    private PullFields() { }

    [Description("One walk past the bins: what to fetch where, places in the order of their codes, first-expired lots first.")]
    public static async Task<PullListView> PullList([FromServices] Asking asking, [Description(JobActs.JobText)] string number,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<PullList.Query, PullList.Answer>(new(number), cancellation));
}

[Name("PullList")]
[Description("What a job still has to fetch.")]
public sealed class PullListView(PullList.Answer answer)
{
    [Description("The job's own number.")]
    public string Job => answer.Job;

    [Description("In walking order.")]
    public IEnumerable<PullStopView> Stops => answer.Stops.Select(stop => new PullStopView(stop));

    [Description("What is nowhere to be had for the job.")]
    public IEnumerable<MissingPartView> Missing => answer.Missing.Select(missing => new MissingPartView(missing));
}

[Name("PullStop")]
[Description("Something to fetch from a place.")]
public sealed class PullStopView(PullList.Stop stop)
{
    [Description("The place's code.")]
    public string Place => stop.Place;

    [Description("The part's number, or a matched pair's code and tags.")]
    public string What => stop.What;

    [Description("What it is called.")]
    public string Name => stop.Name;

    [Description("The lot to take.")]
    public string? Lot => stop.Lot;

    [Description("The last day on which the lot may be used.")]
    public DateOnly? ExpiresOn => stop.ExpiresOn;

    [Description("How many, in the part's unit.")]
    public decimal Quantity => stop.Quantity.ToDecimal();

    [Description("The job has them reserved; else they are free.")]
    public bool Reserved => stop.Reserved;
}

[Name("MissingPart")]
[Description("Pieces of a list that are nowhere to be had.")]
public sealed class MissingPartView(PullList.MissingPart missing)
{
    [Description("The part's number, as written.")]
    public string Part => missing.Part;

    [Description("How many, in the part's unit.")]
    public decimal Quantity => missing.Quantity.ToDecimal();
}

[Name("PulledForJob")]
[Description("What was scanned and booked to a job.")]
public sealed class PulledForJobView(PullForJob.Answer answer)
{
    [Description("What was done.")]
    public string Done => answer.Acted.Done;

    [Description("Where the pieces were.")]
    public IEnumerable<PiecesAtView> Pulled => answer.Pulled.Select(pieces => new PiecesAtView(pieces));

    [Description("What to fetch next, in walking order; null when everything is here.")]
    public string? Next => answer.Next;
}

[Name("SurplusReturned")]
[Description("What became of surplus pieces out of packs.")]
public sealed class SurplusReturnedView(ReturnSurplus.Answer answer)
{
    [Description("What was done.")]
    public string Done => answer.Acted.Done;

    [Description("Pack by pack.")]
    public IEnumerable<SurplusLineView> Lines => answer.Lines.Select(line => new SurplusLineView(line));
}

[Name("SurplusLine")]
[Description("Surplus pieces of one part out of one pack.")]
public sealed class SurplusLineView(ReturnSurplus.Line line)
{
    [Description("The pack's number.")]
    public string Pack => line.Pack;

    [Description("The pack's lot.")]
    public string? PackLot => line.PackLot;

    [Description("The part's number.")]
    public string Part => line.Part;

    [Description("How many, in the part's unit.")]
    public decimal Quantity => line.Quantity.ToDecimal();

    [Description("The lot they are in now, which names the pack; null when they are kept with the kit.")]
    public string? Lot => line.Lot;
}
