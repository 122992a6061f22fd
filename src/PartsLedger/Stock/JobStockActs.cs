using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Stock;

/// <summary>What the API can do with stock for a job.</summary>
public sealed class JobStockActs
{
    private const string JobText = "The job's own number; case and spare spaces do not matter.";
    private const string PartText = "The part's number; case, spaces, dashes, dots and slashes do not matter.";
    private const string QuantityText = "How many, in the part's unit.";
    private const string NoteText = "A note, at most 500 characters.";

    private JobStockActs() { }

    [Description("Keeps a list of parts for a job: first to expire first, new before rebuilt before used, never an expired lot.")]
    public static Task<Payload<ReservedListView>> ReserveForJob([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId, [Description(JobText)] string job,
        [Description("What the job needs, at most 500 lines.")] IReadOnlyList<ReserveLineInput> lines,
        [Description("What happens when not everything is free; ALL_OR_NOTHING when left out.")] ReserveRule? rule = null,
        [Description("When the pieces free up again; 14 days from now when left out, at most 366.")] DateTimeOffset? expiresAt = null,
        CancellationToken cancellation = default)
    {
        return acting.Act<ReserveForJob.Command, ReserveForJob.Answer, ReservedListView>(Write(), answer => new(answer), cancellation);

        Outcome<ReserveForJob.Command> Write()
        {
            var list = new List<ReserveForJob.Line>(lines.Count);
            foreach (var line in lines)
            {
                var quantity = line.Quantity.ToQuantity();
                if (!quantity.Succeeded) return quantity.Refusal;
                list.Add(new(line.Part, quantity.Result, line.Lot));
            }
            return new ReserveForJob.Command(requestId, job, list, rule ?? ReserveRule.AllOrNothing, expiresAt);
        }
    }

    [Description("Frees what a job has reserved: everything, everything of one part, or so many of one part.")]
    public static Task<Payload<ReleasedPiecesView>> ReleaseReservation([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId, [Description(JobText)] string job,
        [Description("Only of this part; everything when left out.")] string? part = null,
        [Description("So many of the part; all that the job has reserved of it when left out.")] decimal? quantity = null,
        CancellationToken cancellation = default) =>
        acting.Act<ReleaseReservation.Command, ReleaseReservation.Answer, ReleasedPiecesView>(
            quantity is not { } number ? new ReleaseReservation.Command(requestId, job, part)
                : number.ToQuantity().Then<ReleaseReservation.Command>(read => new ReleaseReservation.Command(requestId, job, part, read)),
            answer => new(answer), cancellation);

    [Description("A job takes pieces off the shelf, its reserved ones first; first to expire first unless a place or lot is named. Never what others have "
        + "reserved, what has expired or what is in quarantine.")]
    public static Task<Payload<PulledPiecesView>> PullStock([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId, [Description(JobText)] string job, [Description(PartText)] string part,
        [Description(QuantityText)] decimal quantity,
        [Description("Which pieces; EITHER when left out.")] PullFrom? from = null,
        [Description("Only from this place; from any when left out.")] string? place = null,
        [Description("Only of this lot; the first to expire when left out.")] string? lot = null,
        [Description("Only in this condition; new before rebuilt before used when left out.")] StockCondition? condition = null,
        [Description(NoteText)] string? note = null, CancellationToken cancellation = default) =>
        acting.Act<PullStock.Command, PullStock.Answer, PulledPiecesView>(
            quantity.ToQuantity().Then<PullStock.Command>(read =>
                new PullStock.Command(requestId, job, part, read, from ?? PullFrom.Either, place, lot, condition, note)),
            answer => new(answer), cancellation);

    [Description("Pieces that a job pulled come back, worth what they left with; not more than it has of the part and lot.")]
    public static Task<Payload<StockPostedView>> ReturnFromJob([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId, [Description(JobText)] string job, [Description(PartText)] string part,
        [Description(QuantityText)] decimal quantity,
        [Description("The place they are put in.")] string to,
        [Description("As they are now; NEW when left out.")] StockCondition? condition = null,
        [Description("The lot; must be given where the part is tracked by lot or serial number.")] string? lot = null,
        [Description(NoteText)] string? note = null, CancellationToken cancellation = default) =>
        acting.Act<ReturnFromJob.Command, StockPosted, StockPostedView>(
            quantity.ToQuantity().Then<ReturnFromJob.Command>(read =>
                new ReturnFromJob.Command(requestId, job, part, read, to, condition ?? StockCondition.New, lot, note)),
            answer => new(answer), cancellation);
}
