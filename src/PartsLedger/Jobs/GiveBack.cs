using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>What a job pulled and did not use goes back into stock, worth what it left with.</summary>
public static class GiveBack
{
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Job, string Part, Quantity Quantity, string To, StockCondition Condition = StockCondition.New,
            string? Lot = null, string? Why = null)
        : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.Quantity).Positive();
            RuleFor(c => c.To).Named("place they go to");
            RuleFor(c => c.Why).ShortText("reason");
        }
    }

    /// <summary>Null while the job goes on.</summary>
    public static Refusal? Decide(JobStanding standing) => JobCourse.IsOver(standing.State) ? JobCourse.Refuse(standing, JobStep.Pull)
        : null;

    public sealed class Handler(JobDesk desk, JobStandings standings, IActHandler<ReturnFromJob.Command, StockPosted> giveBack)
        : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            if (Decide(await standings.Of(job, context.Now, cancellation)) is { } refusal) return refusal;
            var posted = await giveBack.Handle(new(act.RequestId, job.Number, act.Part, act.Quantity, act.To, act.Condition, act.Lot,
                act.Why), context, cancellation);
            if (!posted.Succeeded) return posted.Refusal;
            job.Version++;
            desk.Write(context, act.RequestId, job, "gave back", $"{act.Quantity} of {act.Part.Trim()} to {act.To.Trim()}", act.Why);
            return new JobActed(job.Number, job.State, $"{act.Quantity} of {act.Part.Trim()} are back in {act.To.Trim()}.");
        }
    }
}
