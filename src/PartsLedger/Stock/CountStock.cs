using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// A blind count of what lies in one place. Nobody is told what is expected before the count is in; a difference is posted, a large one
/// only when a second count finds the same. What the count does not name stays as it is.
/// </summary>
public static class CountStock
{
    [Allowed(Role.Warehouse)]
    public sealed record Command(string RequestId, string Place, IReadOnlyList<Line> Lines, string? Note = null) : IAct<Answer>;

    /// <param name="Counted">What is there; zero when there is nothing.</param>
    public sealed record Line(string Part, Quantity Counted, string? Lot = null, StockCondition Condition = StockCondition.New);

    /// <param name="Transaction">The ledger transaction of the differences; null when none was posted.</param>
    /// <param name="Lines">In the order of the count.</param>
    public sealed record Answer(long? Transaction, string Place, DateTimeOffset At, IReadOnlyList<LineAnswer> Lines);

    /// <param name="Code"><c>COUNT_AGAIN</c> where the line must be counted once more, else null.</param>
    /// <param name="Difference">What was posted, more (above zero) or fewer than the ledger had; null where it must be counted again.</param>
    public sealed record LineAnswer(
        string Part, string? Lot, StockCondition Condition, Quantity Counted, CountVerdict Verdict, string? Code, Quantity? Difference);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Place).Named("place");
            RuleFor(c => c.Note).ShortText("note");
            RuleFor(c => c.Lines).SomeLines("count");
            RuleForEach(c => c.Lines).ChildRules(line =>
            {
                line.RuleFor(l => l.Part).Named("part number");
                line.RuleFor(l => l.Counted).Counted();
                line.RuleFor(l => l.Lot).CodeIfGiven("lot");
            });
        }
    }

    /// <summary>What one line turned out to be.</summary>
    public sealed record Found(Line Line, NamedPieces Pieces)
    {
        public Slot Slot => Slot.In(Pieces.Place.Id, Pieces.Lot?.Id, Line.Condition);
    }

    /// <summary>An earlier count of the same pieces that waits for a second one.</summary>
    public sealed record Waiting(int PartId, Slot Slot, Quantity Counted);

    /// <param name="Difference">Counted less on hand.</param>
    public sealed record Judged(Found Of, CountVerdict Verdict, Quantity Difference);

    /// <param name="shelves">What the shop has, by part id.</param>
    /// <param name="recountAbove">A difference above this needs two equal counts.</param>
    public static Outcome<IReadOnlyList<Judged>> Decide(
        IReadOnlyList<Found> lines, IReadOnlyDictionary<int, Shelf> shelves, IReadOnlyList<Waiting> waiting, Quantity recountAbove)
    {
        var judged = new List<Judged>();
        foreach (var found in lines)
        {
            var (part, place, lot) = found.Pieces;
            var shelf = shelves[part.Id];
            var counted = found.Line.Counted;
            if (part.WholePieces && !counted.IsWhole) return StockRefusals.NotWhole(part.Number, counted);
            if (part.Tracking != Tracking.Bulk && lot is null) return StockRefusals.LotMissing(part.Number);
            if (lines.Count(other => other.Pieces.Part.Id == part.Id && other.Slot == found.Slot) > 1)
                return ShelfRefusals.CountedTwice(part.Number, lot?.Code, found.Line.Condition);
            if (part.Tracking == Tracking.Serial && counted > Quantity.Zero && TooManyOfSerial(lot!, shelf, lines) is { } serial) return serial;

            var balance = shelf.At(found.Slot);
            var difference = counted - (balance?.OnHand ?? Quantity.Zero);
            var isLarge = difference > recountAbove || -difference > recountAbove;
            var confirmed = waiting.Any(one => one.PartId == part.Id && one.Slot == found.Slot && one.Counted == counted);
            var verdict = difference == Quantity.Zero ? CountVerdict.Agreed : isLarge && !confirmed ? CountVerdict.CountAgain : CountVerdict.Posted;

            // Not before the count is believed: the reserved figure would tell what is expected.
            if (verdict == CountVerdict.Posted && balance is not null && counted < balance.Reserved)
                return ShelfRefusals.BelowReserved(part.Number, place.Code, counted, balance.Reserved, shelf.Holders(balance));
            judged.Add(new Judged(found, verdict, difference));
        }
        return judged;
    }

    private static Refusal? TooManyOfSerial(StockLot serial, Shelf shelf, IReadOnlyList<Found> lines)
    {
        var part = shelf.Part;
        var ofSerial = lines.Where(line => line.Pieces.Part.Id == part.Id && line.Pieces.Lot?.Id == serial.Id).ToList();
        if (ofSerial.Total(line => line.Line.Counted) > Quantity.FromWhole(1)) return StockRefusals.SerialIsOne(part.Number);
        var elsewhere = shelf.Balances.FirstOrDefault(balance => balance.LotId == serial.Id && !ofSerial.Exists(line => line.Slot == balance.Slot));
        return elsewhere is null ? null : ShelfRefusals.SerialElsewhere(part.Number, serial.Code, elsewhere.Place.Code);
    }

    public sealed class Handler(LedgerContext db, Ledger ledger, StockDesk desk, ShopSettings settings) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var lines = new List<Found>();
            foreach (var line in act.Lines)
            {
                var pieces = await desk.Pieces(line.Part, act.Place, line.Lot, cancellation);
                if (!pieces.Succeeded) return pieces.Refusal;
                lines.Add(new Found(line, pieces.Result));
            }
            var parts = lines.Select(line => line.Pieces.Part).Distinct().ToList();
            var place = lines[0].Pieces.Place;
            var hand = await ledger.Begin(parts.Select(part => part.Id), context.Now, cancellation);

            var shelves = parts.ToDictionary(part => part.Id, part => hand[part.Id].Shelf(part));
            var partIds = shelves.Keys.ToArray();
            var waiting = await db.StockCounts.Where(row => row.LocationId == place.Id && row.Waiting && partIds.Contains(row.PartId))
                .ToListAsync(cancellation);
            var decided = Decide(lines, shelves,
                [.. waiting.Select(row => new Waiting(row.PartId, SlotOf(row), row.Counted))], await settings.RecountAbove(db, cancellation));
            if (!decided.Succeeded) return decided.Refusal;

            Keep(decided.Result, waiting, context);
            var movements = decided.Result.Where(line => line.Verdict == CountVerdict.Posted).Select(Correction).ToList();
            long? transaction = movements.Count == 0 ? null
                : (await ledger.Post(new Posting("count", act.RequestId, act.Note, "count", place.Code), movements, context, cancellation)).Id;
            return new Answer(transaction, place.Code, context.Now, [.. decided.Result.Select(Told)]);
        }

        private void Keep(IReadOnlyList<Judged> lines, List<StockCountRow> waiting, ActContext context)
        {
            foreach (var (found, verdict, _) in lines)
            {
                var (part, place, lot) = found.Pieces;
                db.StockCounts.Add(new StockCountRow
                {
                    PartId = part.Id, LocationId = place.Id, LotSlot = lot?.Id ?? 0, Condition = found.Line.Condition, Counted = found.Line.Counted,
                    At = context.Now, Who = context.Caller.Name, Waiting = verdict == CountVerdict.CountAgain,
                });
                if (verdict == CountVerdict.CountAgain) continue;
                foreach (var row in waiting.Where(row => row.PartId == part.Id && SlotOf(row) == found.Slot)) row.Waiting = false;
            }
        }

        private static Slot SlotOf(StockCountRow row) => Slot.In(row.LocationId, row.LotSlot == 0 ? null : row.LotSlot, row.Condition);

        private static Movement Correction(Judged line)
        {
            var inside = line.Of.Slot;
            var outside = Slot.Out(OutsideWorld.CountDifference, inside.LotId, inside.Condition);
            var part = line.Of.Pieces.Part.Id;
            return line.Difference > Quantity.Zero ? new Movement(part, line.Difference, outside, inside) : new Movement(part, -line.Difference, inside, outside);
        }

        private static LineAnswer Told(Judged line)
        {
            var again = line.Verdict == CountVerdict.CountAgain;
            return new LineAnswer(line.Of.Pieces.Part.Number, line.Of.Pieces.Lot?.Code, line.Of.Line.Condition, line.Of.Line.Counted, line.Verdict,
                again ? "COUNT_AGAIN" : null, again ? null : line.Difference);
        }
    }
}
