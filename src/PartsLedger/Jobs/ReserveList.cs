using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// What the accepted list asks for and the job neither has nor has reserved is reserved: all of it or nothing, or what there is.
/// </summary>
public static class ReserveList
{
    [Allowed(Role.Counter, Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, ReserveRule Rule = ReserveRule.AllOrNothing,
        DateTimeOffset? ExpiresAt = null)
        : IAct<ReserveForJob.Answer>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator() => RuleFor(c => c.Job).Named("job");
    }

    /// <param name="reserved">What the job has reserved already, by part number.</param>
    public static Outcome<IReadOnlyList<ReserveForJob.Line>> Decide(JobStanding standing, IReadOnlyList<PullNeed> needs,
        IReadOnlyDictionary<string, Quantity> reserved)
    {
        if (JobCourse.Refuse(standing, JobStep.Pull) is { } refusal) return refusal;
        var lines = needs.Select(need => new ReserveForJob.Line(need.Part, need.Left - reserved.GetValueOrDefault(need.Part)))
            .Where(line => line.Quantity > Quantity.Zero).ToList();
        return lines.Count > 0 ? lines
            : new Refusal("NOTHING_TO_DO", $"Everything on the list of job {standing.Number} is reserved or pulled.",
            "Go on with pulling.");
    }

    public sealed class Handler(JobDesk desk, JobStandings standings, JobShelf shelf, IActHandler<ReserveForJob.Command,
        ReserveForJob.Answer> reserve)
        : IActHandler<Command, ReserveForJob.Answer>
    {
        public async Task<Outcome<ReserveForJob.Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var lines = Decide(await standings.Of(job, context.Now, cancellation), await shelf.Needs(job, cancellation),
                (await desk.Pieces(job, context.Now, cancellation)).ReservedByNumber);
            if (!lines.Succeeded) return lines.Refusal;
            var reserved = await reserve.Handle(new(act.RequestId, job.Number, lines.Result, act.Rule, act.ExpiresAt), context,
                cancellation);
            if (!reserved.Succeeded) return reserved.Refusal;

            // Two people reserving the same list at once must not both read what was open before.
            job.Version++;
            desk.Write(context, act.RequestId, job, "reserved", $"{reserved.Result.Reserved.Count} places; missing: "
                + string.Join(", ", reserved.Result.Missing.Select(missing => $"{missing.Quantity} × {missing.Part}")
                    .DefaultIfEmpty("nothing")));
            return reserved;
        }
    }
}
