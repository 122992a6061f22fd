using FluentValidation;
using PartsLedger.Cores;
using PartsLedger.Data;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>The customer's core comes in for an exchange unit, before or after that has gone out.</summary>
public static class BringCore
{
    [Allowed(Role.Counter, Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string Core) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Core).Named("core's tag");
        }
    }

    /// <param name="rebuiltIn">The number of the job that the core belongs to.</param>
    public static Refusal? Decide(JobRow job, CoreRow core, string? rebuiltIn)
    {
        if (job.State == JobState.CalledOff) return JobCourse.Refuse(new JobStanding(job.Number, job.State), JobStep.Pull);
        if (!job.IsExchange) return new Refusal("NOT_AN_EXCHANGE", $"Job {job.Number} rebuilds the customer's own pump.",
            "A core comes in only for an exchange unit.");
        if (job.CoreId is not null) return new Refusal("CORE_THERE_ALREADY", $"The core for job {job.Number} has come in: {job.Core?.Tag}.",
            "One comes in for one that goes out.");
        if (rebuiltIn is not null) return WorkRefusals.CoreInJob(core.Tag, rebuiltIn);
        return core.State is CoreState.SentBack or CoreState.Scrapped ? WorkRefusals.CoreGone(core.Tag, CoreCourse.Words(core.State))
            : null;
    }

    public sealed class Handler(LedgerContext db, JobDesk desk, CoreDesk cores) : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var core = await cores.Core(act.Core, cancellation);
            if (!core.Succeeded) return core.Refusal;
            var job = found.Result;
            if (Decide(job, core.Result, await StartJob.JobOf(db, core.Result.Id, cancellation)) is { } refusal) return refusal;
            job.CoreId = core.Result.Id;
            job.Version++;
            desk.Write(context, act.RequestId, job, "core came in", $"core {core.Result.Tag}");
            return new JobActed(job.Number, job.State, $"Core {core.Result.Tag} has come in for job {job.Number}.");
        }
    }
}
