using FluentValidation;
using PartsLedger.Data;
using PartsLedger.Data.Testing;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Jobs;
using PartsLedger.Stock;

namespace PartsLedger.Testing;

/// <summary>A supervisor lets a failed or skipped check pass, for a reason. A new result of the same check must be signed anew.</summary>
public static class SignCheck
{
    [Allowed(Role.Supervisor)]
    public sealed record Command(string RequestId, string Job, int Sequence, string Why) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => (string?)c.Why).Reason();
        }
    }

    public static Refusal? Decide(Command act, JobStanding standing, CheckOfJob? check)
    {
        if (JobCourse.Refuse(standing, JobStep.Check) is { } refusal) return refusal;
        return check is { NeedsSignature: true } ? null
            : new Refusal("NOTHING_TO_SIGN",
                $"Check {act.Sequence} of job {standing.Number} has not failed and was not skipped, or is signed.",
                "There is nothing to sign.");
    }

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings, CheckDesk checks) : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var check = (await checks.Checks(job, cancellation)).FirstOrDefault(one => one.Check.Sequence == act.Sequence);
            if (Decide(act, await standings.Of(job, context.Now, cancellation), check) is { } refusal) return refusal;
            db.JobCheckSignatures.Add(new JobCheckSignatureRow { CheckId = check!.Last!.Id, Why = act.Why, At = context.Now,
                Who = context.Caller.Name, RequestId = act.RequestId });
            job.Version++;
            desk.Write(context, act.RequestId, job, "signed", check.Say, act.Why);
            return new JobActed(job.Number, job.State, $"{check.Say} of job {job.Number} is signed by {context.Caller.Name}.");
        }
    }
}
