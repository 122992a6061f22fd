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

/// <summary>
/// The free pieces of some lots go into another lot of the same part, wherever they lie, and stay there. The lot they go into is from then
/// on as old as the oldest of them. What is reserved stays with its lot.
/// </summary>
public static class MergeLots
{
    /// <param name="Lots">The lots that go into it.</param>
    /// <param name="Place">Only what lies there; null merges in every place.</param>
    [Allowed(Role.Warehouse)]
    public sealed record Command(
        string RequestId, string Part, IReadOnlyList<string> Lots, string Into, string? Place = null, string? Note = null) : IAct<StockPosted>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.Lots).SomeLines("merging");
            RuleForEach(c => c.Lots).Named("lot");
            RuleFor(c => c.Into).Named("lot they go into");
            RuleFor(c => c.Place).CodeIfGiven("place");
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    public static Outcome<IReadOnlyList<Movement>> Decide(StockPart part, IReadOnlyList<StockLot> lots, StockLot into, StockPlace? place, Shelf shelf)
    {
        if (part.Tracking == Tracking.Serial) return ShelfRefusals.LotsOfSerials(part.Number);
        var movements = new List<Movement>();
        StockBalance? reserved = null;
        foreach (var lot in lots)
        {
            if (lot.Id == into.Id || lots.Count(other => other.Id == lot.Id) > 1) return ShelfRefusals.SameLot(lot.Code);
            foreach (var balance in shelf.Balances.Where(balance => balance.LotId == lot.Id && (place is null || balance.Place.Id == place.Id)))
                if (balance.Free > Quantity.Zero) movements.Add(new Movement(part.Id, balance.Free, balance.Slot, balance.Slot with { LotId = into.Id }));
                else reserved = balance;
        }
        if (movements.Count > 0) return movements;
        return reserved is null ? ShelfRefusals.NothingToMerge(part.Number)
            : StockRefusals.NotEnoughFree(part.Number, reserved.OnHand, Quantity.Zero, shelf.Holders(reserved));
    }

    /// <summary>The earliest of the lots' expiry dates; the earliest cure date where every lot has one, for else it is not known.</summary>
    public static (DateOnly? CuredOn, DateOnly? ExpiresOn) Oldest(IReadOnlyList<(DateOnly? CuredOn, DateOnly? ExpiresOn)> lots) =>
        (lots.All(lot => lot.CuredOn is not null) ? lots.Min(lot => lot.CuredOn) : null, lots.Min(lot => lot.ExpiresOn));

    public sealed class Handler(LedgerContext db, Ledger ledger, StockDesk desk) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Part(act.Part, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var part = found.Result;
            var place = await desk.PlaceIfGiven(act.Place, cancellation);
            if (!place.Succeeded) return place.Refusal;
            var lots = new List<StockLot>();
            foreach (var code in act.Lots.Append(act.Into))
            {
                var lot = await desk.Lot(part, code, cancellation);
                if (!lot.Succeeded) return lot.Refusal;
                lots.Add(lot.Result);
            }
            var into = lots[^1];
            var hand = await ledger.Begin([part.Id], context.Now, cancellation);
            var decided = Decide(part, [.. lots.SkipLast(1)], into, place.Result.Place, hand[part.Id].Shelf(part));
            if (!decided.Succeeded) return decided.Refusal;

            await Age(into.Id, [.. decided.Result.Select(movement => movement.From.LotId!.Value).Distinct()], cancellation);
            return StockPosted.Of(await ledger.Post(new Posting("merge-lots", act.RequestId, act.Note), decided.Result, context, cancellation));
        }

        /// <summary>Only lots of which pieces really came make it older.</summary>
        private async Task Age(int intoId, int[] mergedIds, CancellationToken cancellation)
        {
            var into = await db.Lots.SingleAsync(row => row.Id == intoId, cancellation);
            var merged = await db.Lots.AsNoTracking().Where(row => mergedIds.Contains(row.Id)).ToListAsync(cancellation);
            (into.CuredOn, into.ExpiresOn) = Oldest([.. merged.Append(into).Select(lot => (lot.CuredOn, lot.ExpiresOn))]);
            await db.SaveChangesAsync(cancellation);
        }
    }
}
