using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Free pieces are set aside until somebody has looked at them: where they are, or in a quarantine place.</summary>
public static class QuarantineStock
{
    /// <param name="Condition">As they are booked now.</param>
    /// <param name="To">A quarantine place; null leaves them where they are.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Part, string From, Quantity Quantity, string Reason, string? To = null, string? Lot = null,
        StockCondition Condition = StockCondition.New) : IAct<StockPosted>;

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
        if (act.Condition == StockCondition.Quarantine) return ShelfRefusals.AlreadyQuarantined(part.Number, from.Code);
        if (to?.Id == from.Id) return StockRefusals.SamePlace(from.Code);
        if (to is { Kind: not LocationKind.Quarantine }) return ShelfRefusals.NotAQuarantinePlace(to.Code);
        var taken = shelf.Take(from, lot, act.Condition, act.Quantity);
        if (!taken.Succeeded) return taken.Refusal;
        return new List<Movement>
        {
            new(part.Id, act.Quantity, taken.Result.Slot, Slot.In((to ?? from).Id, lot?.Id, StockCondition.Quarantine)),
        };
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
            return StockPosted.Of(await ledger.Post(new Posting("quarantine", act.RequestId, act.Reason.Trim()), decided.Result, context, cancellation));
        }
    }
}
