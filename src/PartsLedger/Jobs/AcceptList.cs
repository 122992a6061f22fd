using System.Text.Json;
using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Fit;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// The kit list that was shown becomes the job's. What the job had reserved beyond it is freed; a matched pair on it is kept for the job,
/// one that is no longer on it is let go.
/// </summary>
public static class AcceptList
{
    /// <param name="Mark">The mark of the list that was shown (see <see cref="JobList"/>): another one is not accepted unseen.</param>
    /// <param name="Why">Needed for a list that leaves something uncovered.</param>
    [Allowed(Role.Counter, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string Mark, string? Why = null) : IAct<Answer>;

    /// <param name="Freed">Pieces that are free again.</param>
    public sealed record Answer(JobActed Acted, int Revision, IReadOnlyList<PiecesAt> Freed);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Mark).Named("list's mark");
            RuleFor(c => c.Why).ShortText("reason");
        }
    }

    public static Refusal? Decide(Command act, JobStanding standing, KitAnswer list)
    {
        if (JobCourse.Refuse(standing, JobStep.AcceptList) is { } refusal) return refusal;
        if (act.Mark.Trim() != ListText.MarkOf(list)) return WorkRefusals.ListChanged(standing.Number, ListText.MarkOf(list));
        return !list.Complete && string.IsNullOrWhiteSpace(act.Why)
            ? WorkRefusals.ListNotComplete(standing.Number,
                list.Uncovered.Select(need => $"{need.Quantity} of {need.Part} at position {need.Position}")) : null;
    }

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings, JobShelf shelf, Ledger ledger, UnitDesk units)
        : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var standing = await standings.Of(job, context.Now, cancellation);
            if (JobCourse.Refuse(standing, JobStep.AcceptList) is { } early) return early;
            await ledger.Begin((await Reservations.OfJob(db, job.NumberKey, cancellation)).Select(line => line.PartId), context.Now,
                cancellation);
            var pieces = await desk.Pieces(job, context.Now, cancellation);
            var resolved = await desk.Resolve(job, pieces, cancellation);
            if (!resolved.Succeeded) return resolved.Refusal;
            if (Decide(act, standing, resolved.Result) is { } refusal) return refusal;

            // From here it succeeds.
            var freed = await shelf.Free(pieces, ListChange.Between([], ListText.Of(resolved.Result), pieces.ReservedByNumber,
                pieces.InHandByNumber)
                .Select(change => (change.Part, change.ToFree)), cancellation);
            await Write(act, job, resolved.Result, context, cancellation);
            return new Answer(new JobActed(job.Number, job.State,
                $"Kit list {job.ListRevision} of job {job.Number} is accepted: {resolved.Result.Lines.Count} lines, {resolved.Result.PiecesShort} pieces to order."), job.ListRevision, freed);
        }

        private async Task Write(Command act, JobRow job, KitAnswer answer, ActContext context, CancellationToken cancellation)
        {
            job.ListRevision++;
            job.State = JobState.ListAccepted;
            job.Version++;
            var list = new JobListRow
            {
                JobId = job.Id, Revision = job.ListRevision, Answer = JsonSerializer.Serialize(answer, ShopJson.Kept), Why = act.Why,
                At = context.Now,
                Who = context.Caller.Name, RequestId = act.RequestId,
            };
            var wanted = answer.Lines.Select(line => line.Part).ToList();
            var parts = await db.Parts.AsNoTracking().Where(row => wanted.Contains(row.Number))
                .ToDictionaryAsync(row => row.Number, row => row.Id, cancellation);
            var pairs = await db.Pairs.Where(row => wanted.Contains(row.Code) || row.Job == job.Number).ToListAsync(cancellation);
            foreach (var (at, line) in answer.Lines.Index())
            {
                var pair = parts.ContainsKey(line.Part) ? null : pairs.Find(row => row.Code == line.Part);
                Invariant.Holds(pair is not null || parts.ContainsKey(line.Part));
                list.Lines.Add(new JobListLineRow
                {
                    Line = at + 1, PartId = pair is null ? parts[line.Part] : null, PairId = pair?.Id,
                    Quantity = Quantity.FromWhole(line.Quantity),
                });
            }
            db.JobLists.Add(list);
            if (list.Lines.Exists(line => line.PairId is { } pair && pair != job.PairId)) job.TakePairOut();
            foreach (var pair in pairs) Keep(act, job, pair, list.Lines.Exists(line => line.PairId == pair.Id), context);
            desk.Write(context, act.RequestId, job, "list accepted",
                $"list {job.ListRevision}: {string.Join(", ", answer.Lines.Select(line => $"{line.Quantity} × {line.Part}"))}", act.Why);
        }

        private void Keep(Command act, JobRow job, PairRow pair, bool wanted, ActContext context)
        {
            // The pair as it came in the pump stays the job's whatever the list says.
            if (pair.Job == job.Number ? wanted || pair.Origin == PairOrigin.AsReceived : !wanted) return;
            (pair.Job, pair.JobUntil) = (wanted ? job.Number : null, null);
            pair.Version++;
            units.Write(context, act.RequestId, wanted ? "kept" : "let go", $"job {job.Number}", pairId: pair.Id);
        }
    }
}
