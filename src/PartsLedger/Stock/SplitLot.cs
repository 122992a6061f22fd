using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Free pieces of a lot become a lot of their own, as old as the one they came from, in the place where they are.</summary>
public static class SplitLot
{
    /// <param name="NewLot">A code that no lot of the part has yet.</param>
    [Allowed(Role.Warehouse)]
    public sealed record Command(
        string RequestId, string Part, string Lot, string Place, Quantity Quantity, string NewLot, StockCondition Condition = StockCondition.New,
        string? Note = null) : IAct<StockPosted>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.Lot).Named("lot");
            RuleFor(c => c.Place).Named("place they are in");
            RuleFor(c => c.Quantity).Positive();
            RuleFor(c => c.NewLot).Named("new lot");
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    /// <returns>What the pieces are taken from.</returns>
    public static Outcome<StockBalance> Decide(Command act, NamedPieces pieces, bool newLotExists, Shelf shelf)
    {
        var (part, place, lot) = pieces;
        if (part.Tracking == Tracking.Serial) return ShelfRefusals.LotsOfSerials(part.Number);
        if (newLotExists) return ShelfRefusals.LotExists(part.Number, act.NewLot.Trim());
        return shelf.Take(place, lot, act.Condition, act.Quantity);
    }

    public sealed class Handler(LedgerContext db, Ledger ledger, StockDesk desk) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var pieces = await desk.Pieces(act.Part, act.Place, act.Lot, cancellation);
            if (!pieces.Succeeded) return pieces.Refusal;
            var (part, _, lot) = pieces.Result;
            var hand = await ledger.Begin([part.Id], context.Now, cancellation);

            var newKey = Code.KeyOf(act.NewLot);
            var exists = await db.Lots.AnyAsync(row => row.PartId == part.Id && row.CodeKey == newKey, cancellation);
            var decided = Decide(act, pieces.Result, exists, hand[part.Id].Shelf(part));
            if (!decided.Succeeded) return decided.Refusal;

            var old = await db.Lots.AsNoTracking().SingleAsync(row => row.Id == lot!.Id, cancellation);
            var made = await desk.LotOrNew(part, act.NewLot, old.CuredOn, old.ExpiresOn, cancellation);
            var source = decided.Result.Slot;
            return StockPosted.Of(await ledger.Post(new Posting("split-lot", act.RequestId, act.Note),
                [new Movement(part.Id, act.Quantity, source, source with { LotId = made.Id })], context, cancellation));
        }
    }
}
