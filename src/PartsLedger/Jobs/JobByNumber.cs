using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Jobs;

/// <summary>
/// One job, whole: where it stands, what is missing before the next step, its findings, its accepted list and what it has.
/// </summary>
public static class JobByNumber
{
    [AllowedToEveryone]
    public sealed record Query(string Job) : IQuery<Answer>;

    /// <param name="Candidates">Which variants it may be, while it is not settled.</param>
    /// <param name="List">The accepted list; null before the first.</param>
    /// <param name="Family">The variant's family; null while it is not settled.</param>
    /// <param name="Positions">What stands at the variant's positions.</param>
    public sealed record Answer(
        FindJobs.Summary Summary, IReadOnlyList<string> Candidates, IReadOnlyList<NextStep> Next, IReadOnlyList<FoundAt> Findings,
            KitAnswer? List, int ListRevision,
        IReadOnlyList<PiecesInHand> InHand, IReadOnlyDictionary<string, Quantity> Reserved, string? Family,
        IReadOnlyDictionary<int, string> Positions);

    /// <param name="Missing">Everything before it can be taken, in order; empty when it can be taken now.</param>
    public sealed record NextStep(JobStep Step, IReadOnlyList<string> Missing);

    /// <param name="Id">Grows with every finding: the highest that was seen names all that was seen.</param>
    public sealed record FoundAt(long Id, int Position, string Name, Finding Finding, string? Note, DateTimeOffset At, string Who);

    public sealed class Handler(Data.LedgerContext db, JobDesk desk, JobStandings standings, TimeProvider clock) : IQueryHandler<Query,
        Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var found = await desk.Job(query.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var now = clock.GetUtcNow();
            var (standing, pieces, list) = await standings.Read(job, now, cancellation);
            var names = await PositionNames.Of(db, job.VariantId, cancellation);
            return new Answer(FindJobs.Summary.Of(job), job.VariantId is null ? [.. job.Candidates.Select(row => row.Variant.Code)] : [],
                JobCourse.IsOver(job.State) ? []
                : [.. Enum.GetValues<JobStep>().Select(step => new NextStep(step, JobCourse.Missing(standing, step)))],
                [.. (await desk.Findings(job.Id, cancellation)).Select(row =>
                    new FoundAt(row.Id, row.Position, names.GetValueOrDefault(row.Position) ?? "", row.Finding, row.Note, row.At, row.Who))],
                list?.Answer, job.ListRevision, pieces.InHand, pieces.ReservedByNumber,
                job.Variant?.Family.Code, names);
        }
    }
}
