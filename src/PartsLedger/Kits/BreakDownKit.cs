using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Jobs;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>
/// Kits become components again, worth together exactly what the kits were worth. What came out of one lot goes back to it; where it cannot be
/// told which lot a piece is of, it goes into a lot that names the kit and is as old as the oldest it may be.
/// </summary>
public static class BreakDownKit
{
    /// <param name="From">The place the kits are in.</param>
    /// <param name="To">The place that the components are put in.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Kit, string Lot, int Count, string From, string To, string? Note = null) : IAct<Answer>;

    public sealed record Answer(long Transaction, DateTimeOffset At, string Kit, string Lot, int Count, Money Value, IReadOnlyList<PiecesAt> Pieces);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Kit).Named("kit");
            RuleFor(c => c.Lot).Named("lot");
            RuleFor(c => c.Count).KitCount();
            RuleFor(c => c.From).Named("place they are in");
            RuleFor(c => c.To).Named("place the components go to");
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    /// <summary>What went into all kits of the lot, of one part and lot; or what is in them by the recipe, where nobody knows of which lot.</summary>
    /// <param name="Worth">What it was worth when it went in, or costs by the catalogue: the share of the kit's value it gets.</param>
    public sealed record Content(StockPart Part, int? LotId, DateOnly? CuredOn, DateOnly? ExpiresOn, Quantity Quantity, Money Worth);

    /// <summary>What a lot of kits holds.</summary>
    /// <param name="Kits">The number of kits that <paramref name="Contents"/> are about.</param>
    /// <param name="IsUntouched">Every kit of the lot is as it was built: none of it was broken down, and none came from elsewhere.</param>
    /// <param name="LotsAreKnown">The contents name the very lots; else they are what the recipe says.</param>
    public sealed record LotOfKits(Quantity Kits, bool IsUntouched, bool LotsAreKnown, IReadOnlyList<Content> Contents);

    /// <param name="LotId">Null for bulk pieces that had no lot; see <paramref name="InOwnLot"/>.</param>
    /// <param name="InOwnLot">Into a lot that names the kit.</param>
    public sealed record Back(StockPart Part, int? LotId, bool InOwnLot, DateOnly? CuredOn, DateOnly? ExpiresOn, Quantity Quantity, Money Weight);

    public static Outcome<IReadOnlyList<Back>> Decide(Command act, StockPart kit, StockLot lot, StockPlace from, StockPlace to, LotOfKits holds, Shelf shelf)
    {
        if (to.Kind == LocationKind.Quarantine) return RecipeRefusals.QuarantinePlace(to.Code, "the components");
        var count = Quantity.FromWhole(act.Count);
        var taken = shelf.Take(from, lot, StockCondition.New, count);
        if (!taken.Succeeded) return taken.Refusal;
        var everything = holds is { IsUntouched: true, LotsAreKnown: true } && count == holds.Kits;
        var back = new List<Back>();
        foreach (var part in holds.Contents.GroupBy(content => content.Part))
        {
            var lots = part.ToList();
            if (everything || (holds.LotsAreKnown && lots.Count == 1))
            {
                back.AddRange(lots.Select(one => new Back(part.Key, one.LotId, false, null, null, Share(one.Quantity), Holding.Share(one.Worth, count, holds.Kits))));
                continue;
            }
            if (part.Key.Tracking == Tracking.Serial) return RecipeRefusals.SerialsInKit(kit.Number, lot.Code, part.Key.Number);
            var worth = Money.FromTenThousandths(lots.Sum(one => one.Worth.TenThousandths));
            back.Add(new Back(part.Key, null, true, lots.Min(one => one.CuredOn), lots.Min(one => one.ExpiresOn), Share(lots.Total(one => one.Quantity)),
                Holding.Share(worth, count, holds.Kits)));
        }
        return back;

        // Every kit holds the same, so the division leaves no remainder; of a recipe that counts in thousandths neither.
        Quantity Share(Quantity all) => Quantity.FromThousandths((long)((Int128)all.Thousandths * count.Thousandths / holds.Kits.Thousandths));
    }

    public sealed class Handler(LedgerContext db, RecipeDesk desk, StockDesk stock, Ledger ledger) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Kit(act.Kit, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var pieces = await stock.Pieces(act.Kit, act.From, act.Lot, cancellation);
            if (!pieces.Succeeded) return pieces.Refusal;
            var (kit, from, lot) = (pieces.Result.Part, pieces.Result.Place, pieces.Result.Lot!);
            var to = await stock.Place(act.To, cancellation);
            if (!to.Succeeded) return to.Refusal;

            // What a lot was built of never changes; whether it is untouched is asked again once the turn is taken.
            var before = await Holds(found.Result, lot, cancellation);
            if (!before.Succeeded) return before.Refusal;
            var hand = await ledger.Begin(before.Result.Contents.Select(content => content.Part.Id).Append(kit.Id), context.Now, cancellation);
            var holds = (await Holds(found.Result, lot, cancellation)).Result;
            if (holds.LotsAreKnown != before.Result.LotsAreKnown) throw new RaceLost();
            var decided = Decide(act, kit, lot, from, to.Result, holds, hand[kit.Id].Shelf(kit));
            if (!decided.Succeeded) return decided.Refusal;

            var movements = new List<Movement>
            {
                new(kit.Id, Quantity.FromWhole(act.Count), Slot.In(from.Id, lot.Id, StockCondition.New), KitWork.Bench(lot.Id)),
            };
            foreach (var back in decided.Result)
            {
                var lotId = back.InOwnLot
                    ? (await stock.LotOrNew(back.Part, ReturnSurplus.LotOf(kit.Number, lot.Code, ""), back.CuredOn, back.ExpiresOn, cancellation)).Id : back.LotId;
                movements.Add(new(back.Part.Id, back.Quantity, KitWork.Bench(lotId), Slot.In(to.Result.Id, lotId, StockCondition.New), Weight: back.Weight));
            }
            var posted = await ledger.Post(KitWork.Posting(KitWork.BreakDown, act.RequestId, act.Note, kit.Number), movements, context, cancellation);
            var codes = await LotCodes(movements.Select(movement => movement.To.LotId).OfType<int>().ToHashSet(), cancellation);
            return new Answer(posted.Id, posted.At, kit.Number, lot.Code, act.Count, await KitWork.Worth(db, posted.Id, kit.Id, cancellation),
                [.. movements.Skip(1).Zip(decided.Result, (movement, back) => new PiecesAt(back.Part.Number, to.Result.Code,
                    movement.To.LotId is { } id ? codes[id] : null, StockCondition.New, movement.Quantity))]);
        }

        private async Task<Outcome<LotOfKits>> Holds(HouseKit kit, StockLot lot, CancellationToken cancellation)
        {
            var build = await db.KitBuilds.AsNoTracking().SingleOrDefaultAsync(row => row.LotId == lot.Id, cancellation);
            var mixed = await db.StockLines.AsNoTracking().AnyAsync(line => line.PartId == kit.Part.Id && line.LotId == lot.Id && line.LocationId != null
                && line.Quantity > Quantity.Zero && (build == null || line.TransactionId != build.TransactionId)
                && (line.Transaction.Act == "merge-lots" || line.Transaction.Act == "split-lot" || line.Transaction.Act == "receive"), cancellation);
            if (build is null || mixed) return await ByRecipe(kit, lot, cancellation);
            var touched = await db.StockLines.AsNoTracking().AnyAsync(line => line.PartId == kit.Part.Id && line.LotId == lot.Id
                && line.Outside == OutsideWorld.Kit && line.TransactionId != build.TransactionId, cancellation);
            var lines = await db.StockLines.AsNoTracking()
                .Where(line => line.TransactionId == build.TransactionId && line.Outside == OutsideWorld.Kit && line.PartId != kit.Part.Id)
                .OrderBy(line => line.Id).Select(line => new
                {
                    line.PartId, line.Part.Number, line.Part.Tracking, line.Part.Unit, line.LotId, line.Lot!.CuredOn, line.Lot.ExpiresOn, line.Quantity, line.Value,
                }).ToListAsync(cancellation);
            return new LotOfKits(build.Quantity, !touched, true, [.. lines.GroupBy(line => (line.PartId, line.LotId)).Select(group => new Content(
                new StockPart(group.Key.PartId, group.First().Number, group.First().Tracking, PieceUnit.IsWhole(group.First().Unit)), group.Key.LotId,
                group.First().CuredOn, group.First().ExpiresOn, group.Total(line => line.Quantity),
                Money.FromTenThousandths(group.Sum(line => line.Value.TenThousandths))))]);
        }

        /// <summary>Bought, split or merged: what the recipe says is in it, as old as the kits are.</summary>
        private async Task<Outcome<LotOfKits>> ByRecipe(HouseKit kit, StockLot lot, CancellationToken cancellation)
        {
            var recipe = await desk.Recipe(kit, null, cancellation);
            if (!recipe.Succeeded) return recipe.Refusal;
            var row = await db.Lots.AsNoTracking().SingleAsync(row => row.Id == lot.Id, cancellation);
            return new LotOfKits(Quantity.FromWhole(1), false, false, [.. recipe.Result.Lines.OrderBy(line => line.Line).Select(line => new Content(
                new StockPart(line.PartId, line.Part.Number, line.Part.Tracking, PieceUnit.IsWhole(line.Part.Unit)), null, row.CuredOn, row.ExpiresOn,
                line.Quantity, line.Part.Cost * line.Quantity))]);
        }

        private async Task<Dictionary<int, string>> LotCodes(HashSet<int> ids, CancellationToken cancellation) =>
            await db.Lots.AsNoTracking().Where(row => ids.Contains(row.Id)).ToDictionaryAsync(row => row.Id, row => row.Code, cancellation);
    }
}
