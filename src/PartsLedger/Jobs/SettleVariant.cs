using FluentValidation;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>It is known which variant the pump is. Until a list is accepted it may turn out to be another one.</summary>
public static class SettleVariant
{
    /// <param name="Why">How it is known, in a few words.</param>
    [Allowed(Role.Counter, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string Variant, string? Why = null) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Variant).Named("variant");
            RuleFor(c => c.Why).ShortText("reason");
        }
    }

    /// <param name="found">Positions that have findings already: the variant must have them too.</param>
    public static Refusal? Decide(JobRow job, JobStanding standing, VariantRow variant, IEnumerable<int> found)
    {
        if (JobCourse.Refuse(standing, JobStep.SettleVariant) is { } refusal) return refusal;
        if (!job.IsExchange && Mismatch(job.Core, variant) is { } mismatch) return mismatch;
        var known = variant.Positions.Select(row => row.Position).ToHashSet();
        return found.Where(position => !known.Contains(position))
            .Select(position => WorkRefusals.UnknownPosition(variant.Code, position, known)).FirstOrDefault();
    }

    /// <summary>
    /// What the core was taken in as stands, until it is taken in anew: two papers about one pump must not contradict each other.
    /// </summary>
    internal static Refusal? Mismatch(CoreRow? core, VariantRow variant)
    {
        if (core?.VariantId is { } own && own != variant.Id) return WorkRefusals.OtherVariant(core.Tag, core.Variant?.Code
            ?? "another variant", variant.Code);
        return core?.FamilyId is { } family && family != variant.FamilyId
            ? new Refusal("OTHER_FAMILY", $"Core {core.Tag} is of family {core.Family?.Code}, variant {variant.Code} is not.",
                "Look at the pump again.") : null;
    }

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings) : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var variant = await StartJob.Variant(db, act.Variant, cancellation);
            if (!variant.Succeeded) return variant.Refusal;
            var positions = (await desk.Findings(job.Id, cancellation)).Select(row => row.Position);
            if (Decide(job, await standings.Of(job, context.Now, cancellation), variant.Result, positions) is { } refusal) return refusal;

            job.VariantId = variant.Result.Id;
            if (job.State == JobState.TakenIn) job.State = JobState.Identified;
            job.Version++;
            desk.Write(context, act.RequestId, job, "identified",
                $"variant {variant.Result.Code}, class {variant.Result.PressureClass.Code}", act.Why);
            return new JobActed(job.Number, job.State,
                $"Job {job.Number} is a {variant.Result.Code}, pressure class {variant.Result.PressureClass.Code}.");
        }
    }
}
