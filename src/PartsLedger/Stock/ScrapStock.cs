using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Free pieces leave the shop for good, with the reason why.</summary>
public static class ScrapStock
{
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Part, string From, Quantity Quantity, string Reason, string? Lot = null, StockCondition Condition = StockCondition.New)
        : IAct<StockPosted>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.From).Named("place they are in");
            RuleFor(c => c.Quantity).Positive();
            RuleFor(c => c.Reason).Reason();
            RuleFor(c => c.Lot).CodeIfGiven("lot");
        }
    }

    public static Outcome<IReadOnlyList<Movement>> Decide(Command act, NamedPieces pieces, Shelf shelf)
    {
        var taken = shelf.Take(pieces.Place, pieces.Lot, act.Condition, act.Quantity);
        if (!taken.Succeeded) return taken.Refusal;
        return new List<Movement>
        {
            new(pieces.Part.Id, act.Quantity, taken.Result.Slot, Slot.Out(OutsideWorld.Scrap, pieces.Lot?.Id, act.Condition)),
        };
    }

    public sealed class Handler(Ledger ledger, StockDesk desk) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var pieces = await desk.Pieces(act.Part, act.From, act.Lot, cancellation);
            if (!pieces.Succeeded) return pieces.Refusal;
            var part = pieces.Result.Part;
            var hand = await ledger.Begin([part.Id], context.Now, cancellation);
            var decided = Decide(act, pieces.Result, hand[part.Id].Shelf(part));
            if (!decided.Succeeded) return decided.Refusal;
            return StockPosted.Of(await ledger.Post(new Posting("scrap", act.RequestId, act.Reason.Trim()), decided.Result, context, cancellation));
        }
    }
}
