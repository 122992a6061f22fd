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
/// What was fetched is scanned: the right part of the right lot is booked to the job, anything else is refused with what to fetch instead.
/// Of a matched pair both halves are scanned; it leaves no bin of the ledger, it is fetched as one.
/// </summary>
public static class PullForJob
{
    /// <summary>What a pair's history says once it was fetched, and for which job.</summary>
    internal const string Fetched = "fetched";

    internal static string For(JobRow job) => $"job {job.Number}";

    /// <param name="Scan">A part's number, or the tag of one half of a pair.</param>
    /// <param name="With">The other half's tag.</param>
    /// <param name="Lot">Scanned from the bag; needed where the part is tracked by lot.</param>
    /// <param name="Quantity">What the pull list says for that lot when it is left out.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string Scan, string? Lot = null, Quantity? Quantity = null,
        string? With = null) : IAct<Answer>;

    /// <param name="Next">What to fetch next, in walking order; null when everything is here.</param>
    public sealed record Answer(JobActed Acted, IReadOnlyList<PiecesAt> Pulled, string? Next);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Scan).Named("scan");
            RuleFor(c => c.Lot).CodeIfGiven("lot");
            RuleFor(c => c.With).CodeIfGiven("other half's tag");
            RuleFor(c => c.Quantity!.Value).Positive().When(c => c.Quantity is not null);
        }
    }

    /// <summary>How many are booked, or what to fetch instead.</summary>
    /// <param name="ofClass">The class the part belongs to or holds something of, where that is not the job's.</param>
    public static Outcome<Quantity> Decide(Command act, StockPart part, string? ofClass, string jobClass, PickPlan plan)
    {
        if (ofClass is not null)
            return new Refusal("OTHER_CLASS", $"WRONG PRESSURE CLASS: {part.Number} is {ofClass}, job {act.Job.Trim()} is {jobClass}.",
                Instead(plan));
        var ofPart = plan.Fetches.Where(fetch => fetch.Part.Id == part.Id).ToList();
        if (ofPart.Count == 0 && plan.Missing.All(missing => missing.Part != part.Number))
            return new Refusal("WRONG_PART", $"{part.Number} is not on the pull list of job {act.Job.Trim()}.", Instead(plan));
        if (part.Tracking != Tracking.Bulk && string.IsNullOrWhiteSpace(act.Lot)) return StockRefusals.LotMissing(part.Number);
        var ofLot = ofPart.Where(fetch => string.IsNullOrWhiteSpace(act.Lot) || Code.KeyOf(fetch.From.Lot) == Code.KeyOf(act.Lot)).ToList();
        if (ofPart.Count > 0 && ofLot.Count == 0)
            return new Refusal("WRONG_LOT", $"Lot {act.Lot?.Trim()} of {part.Number} is not the one to take for job {act.Job.Trim()}.",
                Instead(new PickPlan(ofPart, [])));
        var most = ofLot.Total(fetch => fetch.Quantity);
        if (most == Quantity.Zero)
            return new Refusal("NOTHING_THERE", $"{part.Number} is on the pull list of job {act.Job.Trim()}, but none is to be had.",
                "Say that it stays short, or order it.");
        return (act.Quantity ?? most) <= most ? act.Quantity ?? most
            : new Refusal("PULL_TOO_MANY",
                $"The pull list of job {act.Job.Trim()} asks for {most} of {part.Number} there; {act.Quantity} were scanned.",
                "Take what it asks for.");
    }

    /// <summary>Null when both halves were scanned of the pair that is on the list.</summary>
    public static Refusal? Decide(Command act, UnitRow unit, PairRow? onList, string jobClass, PickPlan plan)
    {
        var instead = onList is null ? Instead(plan) : $"Fetch pair {onList.Code} from {onList.Place()}: {onList.Tags()}, and scan both.";
        if (unit.Pair is not { } pair)
            return new Refusal("WRONG_PART", $"{unit.Tag} is a loose {Words.Of(unit.Role)}: it is on no list.", instead);
        if (pair.PressureClass.Code != jobClass)
            return new Refusal("OTHER_CLASS",
                $"WRONG PRESSURE CLASS: pair {pair.Code} is {pair.PressureClass.Code}, job {act.Job.Trim()} is {jobClass}.", instead);
        if (onList is null || pair.Id != onList.Id)
            return new Refusal("WRONG_PART", $"{unit.Tag} belongs to pair {pair.Code}, which is not on the list of job {act.Job.Trim()}.",
                instead);
        var other = pair.Halves.Single(half => half.Id != unit.Id);
        if (string.IsNullOrWhiteSpace(act.With) || Tag.KeyOf(act.With.Trim()) != other.TagKey)
            return new Refusal("HALF_OF_A_PAIR",
                $"{unit.Tag} is half of pair {pair.Code}{(string.IsNullOrWhiteSpace(act.With) ? "" : $"; {act.With.Trim()} is not the other half")}.",
                $"Fetch {other.Tag} with it from {pair.Place()} and scan both.");
        return null;
    }

    private static string Instead(PickPlan plan) => plan.Fetches.Count == 0 ? "Nothing is left to fetch."
        : $"Fetch instead: {plan.Fetches[0]}.";

    public sealed class Handler(
        LedgerContext db, JobDesk desk, JobStandings standings, JobShelf shelf, StockDesk stock, UnitDesk units, OtherClasses classes,
        IActHandler<PullStock.Command, PullStock.Answer> pull) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            if (JobCourse.Refuse(await standings.Of(job, context.Now, cancellation), JobStep.Pull) is { } refusal) return refusal;
            var plan = await shelf.Plan(job, context.Now, cancellation);
            if (await units.Unit(act.Scan, cancellation) is { Succeeded: true, Result: var unit }) return await Pair(act, job, unit, plan,
                context, cancellation);

            var part = await stock.Part(act.Scan, cancellation);
            if (!part.Succeeded) return part.Refusal with { WhatToDo = Instead(plan) };
            var decided = Decide(act, part.Result, await classes.Of(part.Result.Id, job.Variant!.PressureClassId, cancellation),
                job.Variant.PressureClass.Code, plan);
            if (!decided.Succeeded) return decided.Refusal;
            var pulled = await pull.Handle(new(act.RequestId, job.Number, part.Result.Number, decided.Result, Lot: act.Lot), context,
                cancellation);
            if (!pulled.Succeeded) return pulled.Refusal;
            job.Version++;
            var what = string.Join(", ",
                pulled.Result.Pulled.Select(pieces =>
                $"{pieces.Quantity} of {pieces.Part} from {pieces.Place}{(pieces.Lot is null ? "" : $", lot {pieces.Lot}")}"));
            desk.Write(context, act.RequestId, job, "pulled", what);
            return new Answer(new JobActed(job.Number, job.State, $"Job {job.Number} has {what}."), pulled.Result.Pulled,
                Next(await shelf.Plan(job, context.Now, cancellation)));
        }

        private async Task<Outcome<Answer>> Pair(Command act, JobRow job, UnitRow unit, PickPlan plan, ActContext context,
            CancellationToken cancellation)
        {
            var listed = await db.JobListLines.Where(row => row.List.JobId == job.Id && row.List.Revision == job.ListRevision
                && row.PairId != null)
                .Select(row => row.Pair!.Code).FirstOrDefaultAsync(cancellation);
            var onList = listed is null ? null : (await units.Pair(listed, cancellation)).Result;
            if (Decide(act, unit, onList, job.Variant!.PressureClass.Code, plan) is { } refusal) return refusal;
            units.Write(context, act.RequestId, Fetched, For(job), pairId: onList!.Id);
            desk.Write(context, act.RequestId, job, "pulled", $"pair {onList.Code}: {onList.Tags()}");
            return new Answer(new JobActed(job.Number, job.State,
                $"Job {job.Number} has pair {onList.Code}: keep {onList.Tags()} together."), [], Next(plan));
        }

        private static string? Next(PickPlan plan) => plan.Fetches.Count == 0 ? null : plan.Fetches[0].ToString();
    }
}
