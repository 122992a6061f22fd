using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Free pieces go from one place in the shop to another; their lot and condition stay as they are.</summary>
public static class MoveStock
{
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Part, string From, string To, Quantity Quantity, string? Lot = null, StockCondition Condition = StockCondition.New,
        string? Note = null) : IAct<StockPosted>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.From).Named("place it is in");
            RuleFor(c => c.To).Named("place it goes to");
            RuleFor(c => c.Quantity).Positive();
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    public static Outcome<IReadOnlyList<Movement>> Decide(
        Command act, StockPart part, StockPlace from, StockPlace to, StockLot? lot, IReadOnlyList<StockBalance> balances)
    {
        if (part.WholePieces && !act.Quantity.IsWhole) return StockRefusals.NotWhole(part.Number, act.Quantity);
        if (from.Id == to.Id) return StockRefusals.SamePlace(from.Code);
        var source = balances.FirstOrDefault(balance => balance.Slot == Slot.In(from.Id, lot?.Id, act.Condition));
        if (source is null || act.Quantity > source.Free)
            return StockRefusals.NotEnough(part.Number, from.Code, act.Quantity, source?.OnHand ?? Quantity.Zero, source?.Free ?? Quantity.Zero);

        // From here the posting must succeed; anything else is a lost race or a bug.
        return new List<Movement> { new(part.Id, act.Quantity, source.Slot, source.Slot with { LocationId = to.Id }) };
    }

    public sealed class Handler(Ledger ledger, StockDesk desk) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var part = await desk.Part(act.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            var from = await desk.Place(act.From, cancellation);
            if (!from.Succeeded) return from.Refusal;
            var to = await desk.Place(act.To, cancellation);
            if (!to.Succeeded) return to.Refusal;
            var lot = await desk.LotIfGiven(part.Result, act.Lot, cancellation);
            if (!lot.Succeeded) return lot.Refusal;

            var hand = await ledger.Begin([part.Result.Id], context.Now, cancellation);
            var decided = Decide(act, part.Result, from.Result, to.Result, lot.Result.Lot, hand[part.Result.Id].Balances);
            if (!decided.Succeeded) return decided.Refusal;
            return StockPosted.Of(await ledger.Post(new Posting("move", act.RequestId, act.Note), decided.Result, context, cancellation));
        }
    }
}
