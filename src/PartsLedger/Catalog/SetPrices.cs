using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Catalog;

/// <summary>
/// What parts are sold for: one or many at once, all or none. Quotes ask for it from then on; what was promised for a job stays as it was. An
/// import that names a price sets it too.
/// </summary>
public static class SetPrices
{
    public const int Most = 500;

    [Allowed(Role.Supervisor, Role.Administrator)]
    public sealed record Command(string RequestId, IReadOnlyList<Line> Lines) : IAct<Answer>, IConcerns
    {
        string IConcerns.Name => Lines is [{ Part: var only }] ? only : $"{Lines.Count} parts";
    }

    /// <param name="Part">The part's own number.</param>
    /// <param name="Price">What one piece is sold for; null takes the price away.</param>
    /// <param name="Seen">What it was sold for when whoever sets it looked; null where that does not matter.</param>
    public sealed record Line(string Part, Money? Price, Seen? Seen = null);

    /// <param name="Price">Null for a part without a price.</param>
    public sealed record Seen(Money? Price);

    /// <param name="Parts">Their numbers, as written.</param>
    public sealed record Answer(IReadOnlyList<string> Parts);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Lines).Must(lines => lines is { Count: >= 1 and <= Most }).WithErrorCode("LINES_RANGE")
                .WithMessage($"No price, or more than {Most} at once, cannot be set.").WithState(_ => "Change a price, or send them in parts.");
            RuleForEach(c => c.Lines).ChildRules(line =>
            {
                line.RuleFor(l => l.Part).Named("part number");
                line.RuleFor(l => l.Price).Must(price => price is null || (price >= Money.Zero && price <= Money.FromTenThousandths(1_000_000_000L * Money.PerUnit)))
                    .WithErrorCode("PRICE_OUT_OF_RANGE").WithMessage(l => $"The price of {l.Part} is below zero or above a thousand million.").WithState(_ => "Give the price of one piece.");
            });
        }
    }

    /// <param name="part">The part's number, as written.</param>
    public static Refusal? Decide(Line line, string part, Money? now) => line.Seen is { } seen && seen.Price != now
        ? new("PRICE_CHANGED", $"Somebody else has set the price of {part} to {now?.ToString() ?? "none"} meanwhile.", "Look at it and set it again if yours is right.") : null;

    public sealed class Handler(LedgerContext db) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var keys = act.Lines.Select(line => PartNumber.Canonical(line.Part)).ToList();
            if (keys.Distinct(StringComparer.Ordinal).Count() < keys.Count)
                return new Refusal("PART_TWICE", "A part has two prices here.", "Give each part once.");
            var parts = await db.Parts.AsNoTracking().Where(row => keys.Contains(row.NumberKey)).ToDictionaryAsync(row => row.NumberKey, cancellation);
            foreach (var (line, key) in act.Lines.Zip(keys))
            {
                if (!parts.TryGetValue(key, out var part)) return StockRefusals.UnknownPart(line.Part);
                if (Decide(line, part.Number, part.Price) is { } refusal) return refusal;
            }
            foreach (var (line, key) in act.Lines.Zip(keys))
            {
                var (id, before, price) = (parts[key].Id, parts[key].Price, line.Price);
                if (await db.Parts.Where(row => row.Id == id && row.Price == before).ExecuteUpdateAsync(row => row.SetProperty(one => one.Price, price), cancellation) == 0)
                    throw new RaceLost();
            }
            return new Answer([.. keys.Select(key => parts[key].Number)]);
        }
    }
}
