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
/// A mistake is taken back by a transaction that has every line of the wrong one the other way round and names it. Pieces that come back
/// are worth what they left with. What the mistake used up beside the ledger stays so: a reservation that a pull closed is not open again,
/// and a lot that others were merged into keeps its expiry.
/// </summary>
public static class ReverseTransaction
{
    /// <param name="Transaction">The number of the transaction that was wrong.</param>
    [Allowed(Role.Warehouse)]
    public sealed record Command(string RequestId, long Transaction, string Reason) : IAct<StockPosted>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator() => RuleFor(c => c.Reason).Reason();
    }

    /// <summary>One line of the transaction to take back, with its place and lot as people call them.</summary>
    public sealed record Line(long Id, StockPart Part, Slot Slot, string Place, string? Lot, Quantity Quantity, Money Value);

    /// <param name="shelves">What the shop has, by part id.</param>
    /// <param name="atJob">What the job that the transaction belongs to has of each part now; empty when it belongs to none.</param>
    public static Outcome<IReadOnlyList<Movement>> Decide(
        IReadOnlyList<Line> lines, IReadOnlyDictionary<int, Shelf> shelves, string? job, IReadOnlyDictionary<int, IReadOnlyList<PulledLot>> atJob)
    {
        foreach (var slot in lines.Where(line => line.Slot.IsInside).GroupBy(line => (line.Part.Id, line.Slot)))
        {
            var brought = slot.Total(line => line.Quantity);
            if (brought <= Quantity.Zero) continue;
            var taken = shelves[slot.Key.Id].Take(slot.Key.Slot, slot.First().Place, brought);
            if (!taken.Succeeded) return taken.Refusal;
        }
        foreach (var lot in lines.Where(line => line.Slot.Outside == OutsideWorld.Job).GroupBy(line => (line.Part.Id, line.Slot.LotId)))
        {
            var back = lot.Total(line => line.Quantity);
            if (back <= Quantity.Zero) continue;
            var has = atJob[lot.Key.Id].Where(one => one.LotId == lot.Key.LotId).Total(one => one.Quantity);
            if (back > has) return StockRefusals.NotEnough(lot.First().Part.Number, $"Job {job}", back, has, has);
        }
        foreach (var serial in lines.Where(line => line.Slot.IsInside && line.Part.Tracking == Tracking.Serial).GroupBy(line => (line.Part.Id, line.Slot.LotId)))
        {
            var here = shelves[serial.Key.Id].Balances.Where(balance => balance.LotId == serial.Key.LotId).ToList();
            if (here.Total(balance => balance.OnHand) - serial.Total(line => line.Quantity) > Quantity.FromWhole(1))
                return ShelfRefusals.SerialElsewhere(serial.First().Part.Number, serial.First().Lot ?? "", here[0].Place.Code);
        }

        // What comes back first, so that the part never seems to run out in between; off the kit bench last, when it is known what is on it.
        return Paired(lines).OrderBy(movement => movement.From.Outside == OutsideWorld.Kit ? 2 : movement.From.IsInside ? 1 : 0).ToList();
    }

    /// <summary>
    /// The movements that undo the lines. Lines were written in pairs, equal but for their sign, at least one of each pair inside the shop;
    /// lines from outside choose their partner first, so such a pairing is always found, whatever order the database gave the lines.
    /// </summary>
    private static IEnumerable<Movement> Paired(IReadOnlyList<Line> lines)
    {
        var gone = lines.Where(line => line.Quantity < Quantity.Zero).ToList();
        foreach (var came in lines.Where(line => line.Quantity > Quantity.Zero).OrderBy(line => line.Slot.IsInside))
        {
            var partner = gone
                .Where(line => line.Part.Id == came.Part.Id && line.Quantity == -came.Quantity && line.Value == -came.Value)
                .Where(line => line.Slot.IsInside || came.Slot.IsInside)
                .OrderBy(line => line.Slot.IsInside).ThenBy(line => Math.Abs(line.Id - came.Id)).FirstOrDefault();
            Invariant.Holds(partner is not null);
            gone.Remove(partner);
            yield return new Movement(came.Part.Id, came.Quantity, came.Slot, partner.Slot,
                Worth: came.Slot.IsInside || came.Slot.Outside == OutsideWorld.Kit ? null : came.Value,
                Weight: came.Slot.Outside == OutsideWorld.Kit ? came.Value : Money.Zero);
        }
        Invariant.Holds(gone.Count == 0);
    }

    public sealed class Handler(LedgerContext db, Ledger ledger) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var wrong = await db.StockTransactions.AsNoTracking().SingleOrDefaultAsync(row => row.Id == act.Transaction, cancellation);
            if (wrong is null) return ShelfRefusals.UnknownTransaction(act.Transaction);
            if (wrong.ReversesId is { } reversed) return ShelfRefusals.ReversalOfReversal(wrong.Id, reversed);
            var lines = await Lines(act.Transaction, cancellation);
            var parts = lines.Select(line => line.Part).Distinct().ToList();
            var hand = await ledger.Begin(parts.Select(part => part.Id), context.Now, cancellation);

            var by = await db.StockTransactions.AsNoTracking().Where(row => row.ReversesId == act.Transaction).Select(row => row.Id)
                .ToListAsync(cancellation);
            if (by.Count > 0) return ShelfRefusals.AlreadyReversed(act.Transaction, by[0]);

            var job = wrong.BelongsTo == JobWork.BelongsTo ? wrong.BelongsToRef : null;
            var shelves = new Dictionary<int, Shelf>();
            var atJob = new Dictionary<int, IReadOnlyList<PulledLot>>();
            foreach (var part in parts)
            {
                shelves.Add(part.Id, hand[part.Id].Shelf(part));
                atJob.Add(part.Id, job is null ? [] : await JobWork.Pulled(db, job, part.Id, cancellation));
            }
            var decided = Decide(lines, shelves, job, atJob);
            if (!decided.Succeeded) return decided.Refusal;
            var posting = new Posting("reverse", act.RequestId, act.Reason.Trim(), wrong.BelongsTo, wrong.BelongsToRef, wrong.Id);
            return StockPosted.Of(await ledger.Post(posting, decided.Result, context, cancellation));
        }

        private async Task<IReadOnlyList<Line>> Lines(long transaction, CancellationToken cancellation)
        {
            var rows = await db.StockLines.AsNoTracking().Where(line => line.TransactionId == transaction).OrderBy(line => line.Id)
                .Select(line => new
                {
                    line.Id, line.PartId, line.Part.Number, line.Part.Tracking, line.Part.Unit, line.LocationId, line.Outside, line.LotId,
                    line.Condition, Place = line.Location!.Code, Lot = line.Lot!.Code, line.Quantity, line.Value,
                }).ToListAsync(cancellation);
            return [.. rows.Select(row => new Line(row.Id, new StockPart(row.PartId, row.Number, row.Tracking, PieceUnit.IsWhole(row.Unit)),
                new Slot(row.LocationId, row.Outside, row.LotId, row.Condition), row.Place ?? "", row.Lot, row.Quantity, row.Value))];
        }
    }
}
