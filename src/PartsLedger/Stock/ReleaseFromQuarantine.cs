using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Pieces that were looked at and found good become available again, in the condition they were found in.</summary>
public static class ReleaseFromQuarantine
{
    /// <param name="Condition">As they were found: new, rebuilt or used.</param>
    /// <param name="To">Where they go; may be left out unless they lie in a quarantine place.</param>
    [Allowed(Role.Warehouse)]
    public sealed record Command(
        string RequestId, string Part, string From, Quantity Quantity, StockCondition Condition, string Reason, string? To = null, string? Lot = null)
        : IAct<StockPosted>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.From).Named("place they are in");
            RuleFor(c => c.Quantity).Positive();
            RuleFor(c => c.Reason).Reason();
            RuleFor(c => c.To).CodeIfGiven("place they go to");
            RuleFor(c => c.Lot).CodeIfGiven("lot");
        }
    }

    public static Outcome<IReadOnlyList<Movement>> Decide(Command act, NamedPieces pieces, StockPlace? to, Shelf shelf)
    {
        var (part, from, lot) = pieces;
        if (act.Condition == StockCondition.Quarantine) return ShelfRefusals.ConditionNotGood();
        if (to?.Id == from.Id) return StockRefusals.SamePlace(from.Code);
        if ((to ?? from).Kind == LocationKind.Quarantine) return ShelfRefusals.StillInQuarantinePlace(part.Number, (to ?? from).Code);
        var taken = shelf.Take(from, lot, StockCondition.Quarantine, act.Quantity);
        if (!taken.Succeeded) return taken.Refusal;
        return new List<Movement> { new(part.Id, act.Quantity, taken.Result.Slot, Slot.In((to ?? from).Id, lot?.Id, act.Condition)) };
    }

    public sealed class Handler(Ledger ledger, StockDesk desk) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var pieces = await desk.Pieces(act.Part, act.From, act.Lot, cancellation);
            if (!pieces.Succeeded) return pieces.Refusal;
            var to = await desk.PlaceIfGiven(act.To, cancellation);
            if (!to.Succeeded) return to.Refusal;
            var part = pieces.Result.Part;
            var hand = await ledger.Begin([part.Id], context.Now, cancellation);
            var decided = Decide(act, pieces.Result, to.Result.Place, hand[part.Id].Shelf(part));
            if (!decided.Succeeded) return decided.Refusal;
            var posting = new Posting("release-quarantine", act.RequestId, act.Reason.Trim());
            return StockPosted.Of(await ledger.Post(posting, decided.Result, context, cancellation));
        }
    }
}
