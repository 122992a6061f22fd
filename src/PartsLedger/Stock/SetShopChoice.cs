using System.Globalization;
using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Hosting;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// The shop chooses how it works: how it values its stock (before it has booked any), from which difference it counts twice, and how it writes
/// sizes, numbers and money.
/// </summary>
public static class SetShopChoice
{
    /// <param name="Name">
    /// <c>costing</c> (<c>average</c> or <c>fifo</c>), <c>recount-above</c> (a quantity, zero or more), <c>guard-factor</c> (0 to 1), or one
    /// of <see cref="FormatChoice.All"/>.
    /// </param>
    [Allowed(Role.Supervisor, Role.Administrator)]
    public sealed record Command(string RequestId, string Name, string Value) : IAct<Answer>;

    /// <summary>The choice as it stands now.</summary>
    public sealed record Answer(string Name, string Value);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Name).Named("name of the choice");
            RuleFor(c => c.Value).Named("value");
        }
    }

    /// <param name="costing">How stock is valued now.</param>
    /// <param name="stockWasBooked">Some line was written since the shop was set up.</param>
    public static Outcome<Answer> Decide(Command act, Costing costing, bool stockWasBooked)
    {
        var name = act.Name.Trim().ToLowerInvariant();
        switch (name)
        {
            case ShopSettings.CostingName:
                if (!Words.TryParse<Costing>(act.Value, out var chosen))
                    return new Refusal("UNKNOWN_WORD", "Stock is valued at average or fifo, and nothing else was understood.", "Give average or fifo.");
                if (chosen != costing && stockWasBooked)
                    return new Refusal("COSTING_SETTLED", $"Stock was booked already, valued at {Words.Of(costing)}.",
                        "How stock is valued is chosen before the first piece is booked; a shop that must change starts a new ledger.");
                return new Answer(name, Words.Of(chosen));
            case ShopSettings.RecountAboveName:
                if (!Quantity.TryParse(act.Value, out var limit) || limit < Quantity.Zero || limit > StockRefusals.Largest)
                    return new Refusal("QUANTITY_OUT_OF_RANGE", "The difference from which to count again is no quantity of zero or more.",
                        "Give a number such as 5, or 0 to count every difference twice.");
                return new Answer(name, limit.ToString());
            case ShopSettings.GuardFactorName:
                if (!decimal.TryParse(act.Value, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var factor))
                    return new Refusal("GUARD_FACTOR_RANGE", "The guard factor is no number.", "Choose from 0 (none) to 1 (full), to three decimals.");
                return GuardFactor.From(factor).Then<Answer>(_ => new Answer(name, factor.ToString("0.###", CultureInfo.InvariantCulture)));
            default:
                return FormatChoice.All.FirstOrDefault(choice => choice.Name == name) is { } format
                    ? format.With(ShopFormat.Usual, act.Value.Trim()).Then<Answer>(chosen => new Answer(name, format.Of(chosen)))
                    : new Refusal("UNKNOWN_CHOICE", "The shop has no choice of that name.",
                        $"Give one of: {string.Join(", ", ShopSettings.Names)}.");
        }
    }

    public sealed class Handler(LedgerContext db, ShopSettings settings) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            await settings.HoldCosting(db, cancellation);
            var decided = Decide(act, await settings.Costing(db, cancellation), await db.StockLines.AnyAsync(cancellation));
            if (!decided.Succeeded) return decided.Refusal;
            var (name, value) = decided.Result;
            if (await db.Settings.SingleOrDefaultAsync(row => row.Name == name, cancellation) is { } row) row.Value = value;
            else db.Settings.Add(new SettingRow { Name = name, Value = value });
            await db.SaveChangesAsync(cancellation);
            return decided.Result;
        }
    }
}
