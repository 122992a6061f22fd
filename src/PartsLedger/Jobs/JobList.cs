using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Jobs;

/// <summary>
/// The kit list of a job as it would be accepted now, resolved with its findings, and what that would change: in the list, in what is
/// reserved and in what is in hand. Changes nothing.
/// </summary>
public static class JobList
{
    [AllowedToEveryone]
    public sealed record Query(string Job) : IQuery<Answer>;

    /// <param name="Mark">Names this list: whoever accepts it sends it back.</param>
    /// <param name="Accepted">The revision that is accepted; 0 before the first.</param>
    /// <param name="IsAccepted">The accepted list is this one.</param>
    public sealed record Answer(string Job, string Mark, int Accepted, bool IsAccepted, KitAnswer List, IReadOnlyList<ListChange> Changes);

    public static Refusal? Decide(string number, bool isSettled) => isSettled ? null
        : new Refusal("VARIANT_OPEN", $"The variant of job {number} is not settled.", "Settle it first: the list depends on it.");

    public sealed class Handler(JobDesk desk, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var found = await desk.Job(query.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            if (Decide(job.Number, job.VariantId is not null) is { } refusal) return refusal;
            var pieces = await desk.Pieces(job, clock.GetUtcNow(), cancellation);
            var resolved = await desk.Resolve(job, pieces, cancellation);
            if (!resolved.Succeeded) return resolved.Refusal;
            var accepted = await desk.List(job, cancellation);
            var mark = ListText.MarkOf(resolved.Result);
            return new Answer(job.Number, mark, job.ListRevision, accepted is not null && ListText.MarkOf(accepted.Answer) == mark,
                resolved.Result,
                ListChange.Between(accepted?.Lines ?? [], ListText.Of(resolved.Result), pieces.ReservedByNumber, pieces.InHandByNumber));
        }
    }
}
