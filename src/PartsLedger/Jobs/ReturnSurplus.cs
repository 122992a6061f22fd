using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// Pieces out of packs that the job does not need are seen to. What is sold by itself goes into stock as loose parts, in a lot that names
/// the pack and worth nothing: the job has paid for the whole pack. What is never sold alone is kept with the kit, and that is written
/// down.
/// </summary>
public static class ReturnSurplus
{
    /// <param name="To">The place that the loose pieces are put in.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string To) : IAct<Answer>;

    public sealed record Answer(JobActed Acted, IReadOnlyList<Line> Lines);

    /// <param name="Lot">The lot that the loose pieces are in; null when they are kept with the kit.</param>
    public sealed record Line(string Pack, string? PackLot, string Part, Quantity Quantity, string? Lot);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.To).Named("place they go to");
        }
    }

    public static Refusal? Decide(JobStanding standing, StockPlace to, IReadOnlyList<SurplusPieces> surplus)
    {
        if (JobCourse.IsOver(standing.State)) return JobCourse.Refuse(standing, JobStep.Check);
        if (to.Kind == LocationKind.Quarantine) return new Refusal("A_QUARANTINE_PLACE", $"{to.Code} is a quarantine place.",
            "Give the place the loose pieces are kept in.");
        return surplus.Count > 0 ? null : new Refusal("NOTHING_TO_DO", $"Job {standing.Number} has no surplus pieces in hand.",
            "Pull its packs first, or go on.");
    }

    /// <summary>Only what may be had by itself, and is not told apart one by one, is a loose part in stock.</summary>
    public static bool GoesIntoStock(PartService service, Tracking tracking) => service == PartService.Separate
        && tracking != Tracking.Serial;

    /// <summary>The lot of pieces out of a pack: whoever holds one can tell which pack, or which job's, it came from.</summary>
    public static string LotOf(string pack, string? packLot, string job) => Brief($"{pack} {(packLot is null ? $"JOB {job}" : packLot)}");

    private static string Brief(string code) => code.Length <= Code.MaxLength ? code : code[..Code.MaxLength];

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings, JobSurplus surplus, StockDesk stock, Ledger ledger)
        : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var to = await stock.Place(act.To, cancellation);
            if (!to.Succeeded) return to.Refusal;
            var left = await surplus.Left(job, cancellation);
            if (Decide(await standings.Of(job, context.Now, cancellation), to.Result, left) is { } refusal) return refusal;

            var numbers = left.SelectMany(one => new[] { one.Part, one.Pack }).Distinct().ToList();
            var parts = await db.Parts.AsNoTracking().Where(row => numbers.Contains(row.Number))
                .ToDictionaryAsync(row => row.Number, cancellation);
            await ledger.Begin(left.Select(one => parts[one.Part].Id), context.Now, cancellation);
            var booked = new List<(SurplusPieces Pieces, LotRow? PackLot, StockLot? Lot)>();
            foreach (var pieces in left)
            {
                var packId = parts[pieces.Pack].Id;
                var packLot = pieces.Lot is null ? null : await db.Lots.AsNoTracking()
                    .SingleAsync(row => row.PartId == packId && row.CodeKey == Code.KeyOf(pieces.Lot), cancellation);
                var part = parts[pieces.Part];
                booked.Add((pieces, packLot, !GoesIntoStock(part.Service, part.Tracking) ? null : await stock.LotOrNew(
                    new StockPart(part.Id, part.Number, part.Tracking, PieceUnit.IsWhole(part.Unit)),
                        LotOf(pieces.Pack, pieces.Lot, job.Number), packLot?.CuredOn, packLot?.ExpiresOn, cancellation)));
            }
            var movements = booked.Where(one => one.Lot is not null).Select(one => new Movement(one.Lot!.PartId, one.Pieces.Quantity,
                Slot.Out(OutsideWorld.Job, one.Lot.Id, StockCondition.New), Slot.In(to.Result.Id, one.Lot.Id, StockCondition.New),
                Worth: Money.Zero)).ToList();
            var posted = movements.Count == 0 ? null
                : await ledger.Post(JobWork.Posting("surplus", act.RequestId, "out of packs", job.Number), movements, context,
                cancellation);
            foreach (var (pieces, packLot, lot) in booked)
                db.JobSurplus.Add(new JobSurplusRow
                {
                    JobId = job.Id, PackId = parts[pieces.Pack].Id, PackLotId = packLot?.Id, PartId = parts[pieces.Part].Id,
                    Quantity = pieces.Quantity, LotId = lot?.Id,
                    TransactionId = lot is null ? null : posted!.Id, At = context.Now, Who = context.Caller.Name, RequestId = act.RequestId,
                });
            job.Version++;
            var said = string.Join(", ",
                booked.Select(one => $"{one.Pieces.Quantity} of {one.Pieces.Part} out of {one.Pieces.Pack} {(one.Lot is null ? "kept with the kit" : $"to {to.Result.Code}")}"));
            desk.Write(context, act.RequestId, job, "surplus", said);
            return new Answer(new JobActed(job.Number, job.State, $"Surplus: {said}."),
                [.. booked.Select(one => new Line(one.Pieces.Pack, one.Pieces.Lot, one.Pieces.Part, one.Pieces.Quantity, one.Lot?.Code))]);
        }
    }
}
