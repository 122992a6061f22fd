using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// Pieces of the list stay short, or another part takes their place: with the reason. A substitute is then on the pull list.
/// </summary>
public static class PutShort
{
    /// <param name="Substitute">The part that takes their place; null when nothing does.</param>
    /// <param name="SubstituteQuantity">How many of it; as many as are short when left out.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Job, string Part, Quantity Quantity, string Why, string? Substitute = null, Quantity? SubstituteQuantity =
            null) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.Quantity).Positive();
            RuleFor(c => (string?)c.Why).Reason();
            RuleFor(c => c.SubstituteQuantity!.Value).Positive().When(c => c.SubstituteQuantity is not null);
        }
    }

    /// <summary>What the decision needs to know of a substitute.</summary>
    /// <param name="OtherClass">The class it is of, or holds something of, where that is not the job's.</param>
    /// <param name="IsValve">A valve or a housing, by itself or inside.</param>
    public sealed record SubstitutePart(StockPart Part, string? OtherClass, bool IsValve);

    public static Refusal? Decide(Command act, JobStanding standing, StockPart part, SubstitutePart? substitute,
        IReadOnlyList<PullNeed> needs, string jobClass, bool selective)
    {
        if (JobCourse.Refuse(standing, JobStep.Pull) is { } refusal) return refusal;
        if (part.WholePieces && !act.Quantity.IsWhole) return StockRefusals.NotWhole(part.Number, act.Quantity);
        var left = needs.Where(need => need.Part == part.Number).Select(need => need.Left).FirstOrDefault();
        if (act.Quantity > left)
            return new Refusal("NOT_ON_THE_LIST",
                $"Job {standing.Number} has {left} of {part.Number} left to pull; {act.Quantity} cannot stay short.",
                "Look at the pull list again.");
        if (substitute is null) return null;
        if (substitute.Part.Id == part.Id) return new Refusal("SAME_PART", $"{part.Number} cannot take its own place.",
            "Give another part, or none.");
        if (substitute.Part.WholePieces && !(act.SubstituteQuantity ?? act.Quantity)
            .IsWhole) return StockRefusals.NotWhole(substitute.Part.Number, act.SubstituteQuantity ?? act.Quantity);
        if (substitute.OtherClass is { } other)
            return new Refusal("OTHER_CLASS",
                $"WRONG PRESSURE CLASS: {substitute.Part.Number} is {other}, job {standing.Number} is {jobClass}.",
                "Give a part of the job's class.");
        return selective && substitute.IsValve ? new Refusal("VALVE_IS_FITTED",
            $"{substitute.Part.Number} is a housing or a valve, and in this family those are fitted to each other.",
            "Fit a matched pair, or accept a list with an assembly.") : null;
    }

    public sealed class Handler(
        LedgerContext db, JobDesk desk, JobStandings standings, JobShelf shelf, StockDesk stock, OtherClasses classes, Ledger ledger)
            : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var part = await stock.Part(act.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            SubstitutePart? substitute = null;
            if (!string.IsNullOrWhiteSpace(act.Substitute))
            {
                var other = await stock.Part(act.Substitute, cancellation);
                if (!other.Succeeded) return other.Refusal;
                substitute = new SubstitutePart(other.Result, job.Variant is null ? null
                    : await classes.Of(other.Result.Id, job.Variant.PressureClassId, cancellation),
                    await IsValve(other.Result.Id, cancellation));
            }
            await ledger.Begin([part.Result.Id], context.Now, cancellation);
            var needs = await shelf.Needs(job, cancellation);
            if (Decide(act, await standings.Of(job, context.Now, cancellation), part.Result, substitute, needs,
                job.Variant?.PressureClass.Code ?? "",
                job.Variant?.Family.ValveFit == ValveFit.Selective) is { } refusal) return refusal;

            var quantity = substitute is null ? (Quantity?)null : act.SubstituteQuantity ?? act.Quantity;
            db.JobShorts.Add(new JobShortRow
            {
                JobId = job.Id, PartId = part.Result.Id, Quantity = act.Quantity, SubstituteId = substitute?.Part.Id,
                SubstituteQuantity = quantity, Why = act.Why,
                At = context.Now, Who = context.Caller.Name, RequestId = act.RequestId,
            });
            job.Version++;

            // What stays short is no longer reserved.
            var pieces = await desk.Pieces(job, context.Now, cancellation);
            var stillWanted = needs.Single(need => need.Part == part.Result.Number).Left - act.Quantity;
            await shelf.Free(pieces, [(part.Result.Number, pieces.ReservedByNumber.GetValueOrDefault(part.Result.Number) - stillWanted)],
                cancellation);
            var done = $"{act.Quantity} of {part.Result.Number} {(substitute is null ? "stay short" : $"are replaced by {quantity} of {substitute.Part.Number}")}";
            desk.Write(context, act.RequestId, job, substitute is null ? "short" : "substitute", done, act.Why);
            return new JobActed(job.Number, job.State, $"{done} in job {job.Number}.");
        }

        private async Task<bool> IsValve(int partId, CancellationToken cancellation)
        {
            var inside = (await PackPieces.Of(db, [partId], cancellation)).Values.SelectMany(pack => pack.Keys).Append(partId).ToList();
            return await db.Parts.AsNoTracking()
                .AnyAsync(row => inside.Contains(row.Id) && (row.Kind == PartKind.Valve || row.Kind == PartKind.Housing), cancellation);
        }
    }
}
