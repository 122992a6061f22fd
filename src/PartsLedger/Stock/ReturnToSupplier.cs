using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// Free pieces go back to a supplier against a return note, at what the ledger values them at; what the supplier credits is no matter of
/// the ledger.
/// </summary>
public static class ReturnToSupplier
{
    /// <param name="Document">The return note or the supplier's return number.</param>
    [Allowed(Role.Warehouse)]
    public sealed record Command(string RequestId, string Document, IReadOnlyList<Line> Lines, string? Note = null) : IAct<StockPosted>;

    public sealed record Line(string Part, string From, Quantity Quantity, string? Lot = null, StockCondition Condition = StockCondition.New);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Document).Named("return's document");
            RuleFor(c => c.Note).ShortText("note");
            RuleFor(c => c.Lines).SomeLines("return");
            RuleForEach(c => c.Lines).ChildRules(line =>
            {
                line.RuleFor(l => l.Part).Named("part number");
                line.RuleFor(l => l.From).Named("place they are in");
                line.RuleFor(l => l.Quantity).Positive();
                line.RuleFor(l => l.Lot).CodeIfGiven("lot");
            });
        }
    }

    /// <param name="shelves">What the shop has, by part id.</param>
    public static Outcome<IReadOnlyList<Movement>> Decide(
        IReadOnlyList<(Line Line, NamedPieces Pieces)> lines, IReadOnlyDictionary<int, Shelf> shelves)
    {
        var movements = new List<Movement>();
        foreach (var (line, (part, place, lot)) in lines)
        {
            var taken = shelves[part.Id].Take(place, lot, line.Condition, line.Quantity);
            if (!taken.Succeeded) return taken.Refusal;
            movements.Add(new Movement(part.Id, line.Quantity, taken.Result.Slot, Slot.Out(OutsideWorld.Supplier, lot?.Id, line.Condition)));
        }
        return movements;
    }

    public sealed class Handler(Ledger ledger, StockDesk desk) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var lines = new List<(Line, NamedPieces Pieces)>();
            foreach (var line in act.Lines)
            {
                var pieces = await desk.Pieces(line.Part, line.From, line.Lot, cancellation);
                if (!pieces.Succeeded) return pieces.Refusal;
                lines.Add((line, pieces.Result));
            }
            var parts = lines.Select(line => line.Pieces.Part).Distinct().ToList();
            var hand = await ledger.Begin(parts.Select(part => part.Id), context.Now, cancellation);

            var shelves = parts.ToDictionary(part => part.Id, part => hand[part.Id].Shelf(part));
            var decided = Decide(lines, shelves);
            if (!decided.Succeeded) return decided.Refusal;
            var posting = new Posting("return-to-supplier", act.RequestId, act.Note, "supplier-return", act.Document.Trim());
            return StockPosted.Of(await ledger.Post(posting, decided.Result, context, cancellation));
        }
    }
}
