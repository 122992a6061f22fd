using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// An assembled pump is opened again. Its pair must be scanned in anew, and what the bench showed before no longer counts. This is also how
/// a supervisor lifts the stop that a wrong class has put on a job.
/// </summary>
public static class OpenAgain
{
    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string Why) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => (string?)c.Why).Reason();
        }
    }

    public static Refusal? Decide(JobStanding standing, Caller caller)
    {
        if (standing.Stopped is null) return JobCourse.Refuse(standing, JobStep.OpenAgain);
        return caller.IsSupervisor ? JobCourse.Refuse(standing with { Stopped = null }, JobStep.OpenAgain)
            : UnitRefusals.NotSupervisor("lift the stop on a job");
    }

    public sealed class Handler(JobDesk desk, JobStandings standings) : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            if (Decide(await standings.Of(job, context.Now, cancellation), context.Caller) is { } refusal) return refusal;
            var stopped = job.Stopped;
            job.State = JobState.ListAccepted;
            job.Stopped = null;
            job.TakePairOut();
            job.Version++;
            desk.Write(context, act.RequestId, job, stopped is null ? "opened" : "stop lifted", stopped, act.Why);
            return new JobActed(job.Number, job.State, $"Job {job.Number} is open again: scan the pair in when it goes back.");
        }
    }
}
