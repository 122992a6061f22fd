using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Fit;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// The matched pair goes into the pump: both tags are scanned, the shims are counted and measured again and must be as they were found.
/// Only the pair on the job's list goes in, or the one that came in the pump.
/// </summary>
public static class FitPairIntoPump
{
    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string Housing, string Valve, int ShimCount, long ShimStackNanometres)
        : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Housing).Named("housing's tag");
            RuleFor(c => c.Valve).Named("valve's tag");
            RuleFor(c => c.ShimCount).InclusiveBetween(0, 50).WithErrorCode("SHIMS_OUT_OF_RANGE").WithMessage("A valve has 0 to 50 shims.")
                .WithState(_ => "Count them again.");
            RuleFor(c => c.ShimStackNanometres).InclusiveBetween(0, 20 * Length.NanometresPerMillimetre).WithErrorCode("SHIMS_OUT_OF_RANGE")
                .WithMessage("A shim stack is 0 to 20 mm thick.").WithState(_ => "Measure the stack again, in millimetres.");
        }
    }

    /// <param name="onList">The pair that the accepted list names; null when it names none.</param>
    public static Refusal? Decide(Command act, JobStanding standing, JobRow job, UnitRow housing, UnitRow valve, PairRow? onList)
    {
        if (JobCourse.Refuse(standing, JobStep.FitPair) is { } refusal) return refusal;
        if (housing.Role != UnitRole.Housing) return UnitRefusals.WrongRole(housing, UnitRole.Housing);
        if (valve.Role != UnitRole.Valve) return UnitRefusals.WrongRole(valve, UnitRole.Valve);
        if (valve.Pair is not { } pair || housing.PairId != pair.Id)
            return new Refusal("NOT_ONE_PAIR", $"{housing.Tag} and {valve.Tag} are not one pair.",
                $"Fetch what belongs together: {string.Join("; ", new[] { housing, valve }.Select(half => half.Pair is { } own ? own.Tags() : $"{half.Tag} is loose"))}.");
        if (pair.State != PairState.Together) return UnitRefusals.PairNotTogether(pair);
        if (Faults(job, pair) is [var fault, ..]) return new Refusal(fault.Code, fault.Sentence,
            "Do not fit it; fetch the pair that the list names.");
        if (onList is not null && pair.Id != onList.Id)
            return new Refusal("WRONG_PAIR", $"The list of job {job.Number} names pair {onList.Code}, not {pair.Code}.",
                $"Fetch {onList.Tags()} from {onList.Place()}.");
        if (onList is null && !CameWith(job, pair))
            return new Refusal("WRONG_PAIR", $"Pair {pair.Code} is not on the list of job {job.Number} and did not come in its pump.",
                "Accept a list that names it first.");
        return ConfirmShims.Decide(new ConfirmShims.Command(act.RequestId, valve.Tag, act.ShimCount, act.ShimStackNanometres), valve);
    }

    /// <summary>Why this pair must not be in this pump, whenever that is asked.</summary>
    internal static IReadOnlyList<Refusal> Faults(JobRow job, PairRow pair)
    {
        var faults = new List<Refusal>();
        if (pair.State is PairState.TakenApart or PairState.Condemned) faults.Add(UnitRefusals.PairNotTogether(pair));
        if (pair.FamilyId != job.Variant!.FamilyId)
            faults.Add(new("OTHER_FAMILY",
                $"Pair {pair.Code} is of family {pair.Family.Code}, job {job.Number} of {job.Variant.Family.Code}.",
                "Fetch another pair."));
        if (pair.PressureClassId != job.Variant.PressureClassId)
            faults.Add(UnitRefusals.OtherClass($"pair {pair.Code}", pair.PressureClass.Code, $"job {job.Number}",
                job.Variant.PressureClass.Code));
        if (pair.Job is { } keeper && Code.KeyOf(keeper) != job.NumberKey) faults.Add(UnitRefusals.KeptForJob($"Pair {pair.Code}", keeper));
        return faults;
    }

    private static bool CameWith(JobRow job, PairRow pair) =>
        !job.IsExchange && job.CoreId is { } core && pair.Origin == PairOrigin.AsReceived
            && pair.Halves.TrueForAll(half => half.CoreId == core);

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings, UnitDesk units) : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var housing = await units.Unit(act.Housing, cancellation);
            if (!housing.Succeeded) return housing.Refusal;
            var valve = await units.Unit(act.Valve, cancellation);
            if (!valve.Succeeded) return valve.Refusal;
            var scanned = valve.Result.Pair is null ? null : (await units.Pair(valve.Result.Tag, cancellation)).Result;
            var listed = await db.JobListLines.Where(row => row.List.JobId == job.Id && row.List.Revision == job.ListRevision
                && row.PairId != null)
                .Select(row => row.Pair!.Code).FirstOrDefaultAsync(cancellation);
            var onList = listed is null ? null : (await units.Pair(listed, cancellation)).Result;
            if (Decide(act, await standings.Of(job, context.Now, cancellation), job, housing.Result, valve.Result,
                onList) is { } refusal) return refusal;

            var pair = scanned!;
            job.PairId = pair.Id;
            job.FittedShimCount = act.ShimCount;
            job.FittedShimStack = Length.FromNanometres(act.ShimStackNanometres);
            job.Version++;
            (pair.Job, pair.JobUntil) = (job.Number, null);
            pair.Version++;
            var shims = FormattableString.Invariant($"{act.ShimCount} shims, {job.FittedShimStack.Value.ToMillimetres():0.000} mm, as they came");
            units.Write(context, act.RequestId, "fitted", $"job {job.Number}; {shims}", pairId: pair.Id);
            desk.Write(context, act.RequestId, job, "pair fitted", $"pair {pair.Code}: {pair.Tags()}; {shims}");
            return new JobActed(job.Number, job.State, $"Pair {pair.Code} ({pair.Tags()}) is in job {job.Number}: {shims}.");
        }
    }
}
