using FluentValidation;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Pieces that a job pulled and did not use come back, worth what they left with.</summary>
public static class ReturnFromJob
{
    /// <param name="To">The place they are put in.</param>
    /// <param name="Condition">As they are now: a piece that was new may come back used, or into quarantine.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Job, string Part, Quantity Quantity, string To, StockCondition Condition = StockCondition.New, string? Lot = null,
        string? Note = null) : IAct<StockPosted>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.Quantity).Positive();
            RuleFor(c => c.To).Named("place they go to");
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    /// <param name="pulled">What the job has of the part, lot by lot.</param>
    public static Outcome<IReadOnlyList<Movement>> Decide(
        Command act, StockPart part, StockPlace to, StockLot? lot, IReadOnlyList<PulledLot> pulled)
    {
        if (part.WholePieces && !act.Quantity.IsWhole) return StockRefusals.NotWhole(part.Number, act.Quantity);
        if (part.Tracking != Tracking.Bulk && lot is null) return StockRefusals.LotMissing(part.Number);
        var has = pulled.FirstOrDefault(one => one.LotId == lot?.Id)?.Quantity ?? Quantity.Zero;
        if (act.Quantity > has) return JobRefusals.ReturnTooMany(act.Job.Trim(), part.Number, act.Quantity, InWords(pulled));

        // On average over all the job has of the part; the last to come back bring exactly what is left. Reversals may have taken back
        // more value than is proportionate, never pieces' worth below zero.
        var value = Money.FromTenThousandths(Math.Max(0, pulled.Sum(one => one.Worth.TenThousandths)));
        var whole = Quantity.Max(pulled.Total(one => one.Quantity), act.Quantity);
        return new List<Movement>
        {
            new(part.Id, act.Quantity, Slot.Out(OutsideWorld.Job, lot?.Id, act.Condition), Slot.In(to.Id, lot?.Id, act.Condition),
                Worth: Holding.Share(value, act.Quantity, whole)),
        };
    }

    private static string InWords(IReadOnlyList<PulledLot> pulled) => string.Join(", ", pulled.Where(one => one.Quantity > Quantity.Zero)
        .Select(one => one.Lot is null ? $"{one.Quantity} without a lot" : $"{one.Quantity} of lot {one.Lot}"));

    public sealed class Handler(LedgerContext db, Ledger ledger, StockDesk desk) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            if (await Jobs.JobBooks.WhyOver(db, act.Job, cancellation) is { } over) return over;
            var part = await desk.Part(act.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            var to = await desk.Place(act.To, cancellation);
            if (!to.Succeeded) return to.Refusal;
            var lot = await desk.LotIfGiven(part.Result, act.Lot, cancellation);
            if (!lot.Succeeded) return lot.Refusal;

            if (await Jobs.JobBooks.WhyOpened(db, act.Job, part.Result.Id, lot.Result.Lot?.Id, cancellation) is { } opened) return opened;
            await ledger.Begin([part.Result.Id], context.Now, cancellation);
            var decided = Decide(act, part.Result, to.Result, lot.Result.Lot, await JobWork.Pulled(db, act.Job, part.Result.Id, cancellation));
            if (!decided.Succeeded) return decided.Refusal;
            return StockPosted.Of(await ledger.Post(JobWork.Posting("return", act.RequestId, act.Note, act.Job), decided.Result, context, cancellation));
        }
    }
}
