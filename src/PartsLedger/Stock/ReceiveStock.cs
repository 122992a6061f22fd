using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Pieces come in from a supplier against its delivery note or invoice, with their cost and, where tracked, their lots.</summary>
public static class ReceiveStock
{
    /// <param name="Document">The supplier's document, as written on it.</param>
    [Allowed(Role.Warehouse)]
    public sealed record Command(string RequestId, string Document, IReadOnlyList<Line> Lines, string? Note = null) : IAct<StockPosted>;

    /// <param name="UnitCost">What one piece costs; null takes what the shop's pieces cost on average.</param>
    public sealed record Line(
        string Part, string Location, Quantity Quantity, Money? UnitCost = null, string? Lot = null, DateOnly? CuredOn = null, DateOnly? ExpiresOn = null,
        StockCondition Condition = StockCondition.New);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Document).Named("supplier's document");
            RuleFor(c => c.Note).ShortText("note");
            RuleFor(c => c.Lines).NotEmpty().WithErrorCode("NOTHING_TO_DO").WithMessage("The receipt has no lines.").WithState(_ => "Give what came.");
            RuleFor(c => c.Lines.Count).LessThanOrEqualTo(500).WithErrorCode("TOO_MANY_LINES").WithMessage("A receipt has at most 500 lines.")
                .WithState(_ => "Book it in several receipts.");
            RuleForEach(c => c.Lines).ChildRules(line =>
            {
                line.RuleFor(l => l.Part).Named("part number");
                line.RuleFor(l => l.Location).Named("place");
                line.RuleFor(l => l.Quantity).Positive();
                line.RuleFor(l => l.UnitCost).NotNegative();
                line.RuleFor(l => l.Lot).MaximumLength(100).WithErrorCode("TEXT_TOO_LONG").WithMessage("The lot is longer than 100 characters.")
                    .WithState(_ => "Scan it again.");
                line.RuleFor(l => l.ExpiresOn).GreaterThanOrEqualTo(l => l.CuredOn).When(l => l.CuredOn is not null && l.ExpiresOn is not null)
                    .WithErrorCode("DATES_REVERSED").WithMessage("The lot would expire before it was cured.").WithState(_ => "Check both dates on the bag.");
            });
        }
    }

    /// <summary>What one line turned out to be.</summary>
    public sealed record Arrival(Line Line, StockPart Part, StockPlace Place, StockLot? Lot, Quantity OnHandOfLot);

    public static Outcome<IReadOnlyList<Movement>> Decide(IReadOnlyList<Arrival> arrivals, DateOnly today)
    {
        foreach (var (line, part, _, lot, onHandOfLot) in arrivals)
        {
            if (part.WholePieces && !line.Quantity.IsWhole) return StockRefusals.NotWhole(part.Number, line.Quantity);
            if (part.Tracking != Tracking.Bulk && lot is null) return StockRefusals.LotMissing(part.Number);
            if (part.Tracking == Tracking.Serial && onHandOfLot + line.Quantity > Quantity.FromWhole(1)) return StockRefusals.SerialIsOne(part.Number);
            if (line.CuredOn > today)
                return new Refusal("DATE_IN_FUTURE", $"The lot of {part.Number} would have been cured on {line.CuredOn:yyyy-MM-dd}, which is not yet.",
                    "Check the date on the bag.");
        }
        return arrivals.Select(arrival => new Movement(arrival.Part.Id, arrival.Line.Quantity,
            Slot.Out(OutsideWorld.Supplier, arrival.Lot?.Id, arrival.Line.Condition),
            Slot.In(arrival.Place.Id, arrival.Lot?.Id, arrival.Line.Condition), arrival.Line.UnitCost)).ToList();
    }

    public sealed class Handler(Ledger ledger, StockDesk desk) : IActHandler<Command, StockPosted>
    {
        public async Task<Outcome<StockPosted>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = new List<(Line Line, StockPart Part, StockPlace Place)>();
            foreach (var line in act.Lines)
            {
                var part = await desk.Part(line.Part, cancellation);
                if (!part.Succeeded) return part.Refusal;
                var place = await desk.Place(line.Location, cancellation);
                if (!place.Succeeded) return place.Refusal;
                found.Add((line, part.Result, place.Result));
            }
            var hand = await ledger.Begin(found.Select(line => line.Part.Id), context.Now, cancellation);

            var arrivals = new List<Arrival>();
            foreach (var (line, part, place) in found)
            {
                var lot = string.IsNullOrWhiteSpace(line.Lot) ? null
                    : await desk.LotOrNew(part, line.Lot, line.CuredOn, line.ExpiresOn, cancellation);
                var ofLot = part.Tracking == Tracking.Serial && lot is not null
                    ? hand[part.Id].Balances.Where(balance => balance.LotId == lot.Id).Total(balance => balance.OnHand)
                    : Quantity.Zero;
                arrivals.Add(new Arrival(line, part, place, lot, ofLot));
            }
            var decided = Decide(arrivals, DateOnly.FromDateTime(context.Now.UtcDateTime));
            if (!decided.Succeeded) return decided.Refusal;
            var posting = new Posting("receive", act.RequestId, act.Note, "receipt", act.Document.Trim());
            return StockPosted.Of(await ledger.Post(posting, decided.Result, context, cancellation));
        }
    }
}
