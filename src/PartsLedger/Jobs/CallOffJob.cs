using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// A job is not finished: what it has reserved is free again, its pairs are let go. What it has in hand must be back first.
/// </summary>
public static class CallOffJob
{
    [Allowed(Role.Counter)]
    public sealed record Command(string RequestId, string Job, string Why) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => (string?)c.Why).Reason();
        }
    }

    public static Refusal? Decide(JobStanding standing) => JobCourse.Refuse(standing, JobStep.CallOff);

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings, Ledger ledger, UnitDesk units)
        : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            await JobBooks.Turn(db, act.Job, cancellation);
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            await ledger.Begin((await Reservations.OfJob(db, job.NumberKey, cancellation)).Select(line => line.PartId), context.Now,
                cancellation);
            if (Decide(await standings.Of(job, context.Now, cancellation)) is { } refusal) return refusal;

            foreach (var line in await Reservations.OfJob(db, job.NumberKey, cancellation)) await Reservations.Close(db, line, line.Open,
                cancellation);
            foreach (var pair in await db.Pairs.Where(row => row.Job == job.Number).ToListAsync(cancellation))
            {
                (pair.Job, pair.JobUntil) = (null, null);
                pair.Version++;
                units.Write(context, act.RequestId, "let go", $"job {job.Number}", pairId: pair.Id);
            }
            job.State = JobState.CalledOff;
            job.Stopped = null;
            job.Version++;
            desk.Write(context, act.RequestId, job, "called off", null, act.Why);
            return new JobActed(job.Number, job.State, $"Job {job.Number} is called off; what it had reserved is free again.");
        }
    }
}
