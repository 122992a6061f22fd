using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>The pump is together: everything on the list is in it or put down as short, the pair and its shims are confirmed.</summary>
public static class FinishAssembly
{
    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator() => RuleFor(c => c.Job).Named("job");
    }

    public static Refusal? Decide(JobStanding standing) => JobCourse.Refuse(standing, JobStep.Assemble);

    public sealed class Handler(JobDesk desk, JobStandings standings) : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            if (Decide(await standings.Of(job, context.Now, cancellation)) is { } refusal) return refusal;
            job.State = JobState.Assembled;
            job.Assembly++;
            job.Version++;
            desk.Write(context, act.RequestId, job, "assembled");
            return new JobActed(job.Number, job.State, $"Job {job.Number} is assembled: it goes on the bench.");
        }
    }
}
