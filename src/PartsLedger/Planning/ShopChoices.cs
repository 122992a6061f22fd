using System.Globalization;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Planning;

/// <summary>What the shop has chosen, and what may be chosen.</summary>
public static class ShopChoices
{
    [AllowedToEveryone]
    public sealed record Query : IQuery<IReadOnlyList<Choice>>;

    /// <param name="Name">As <c>setShopChoice</c> takes it.</param>
    /// <param name="What">What it is about, in a sentence.</param>
    /// <param name="May">What may be given.</param>
    public sealed record Choice(string Name, string Value, string What, string May);

    public sealed class Handler(LedgerContext db, ShopSettings settings) : IQueryHandler<Query, IReadOnlyList<Choice>>
    {
        public async Task<Outcome<IReadOnlyList<Choice>>> Handle(Query query, CancellationToken cancellation)
        {
            var format = await settings.Format(db, cancellation);
            return new List<Choice>
            {
                new(ShopSettings.CostingName, Words.Of(await settings.Costing(db, cancellation)),
                    "How stock is valued. It is settled with the first piece that is booked.", "average or fifo"),
                new(ShopSettings.RecountAboveName, (await settings.RecountAbove(db, cancellation)).ToString(),
                    "A count that differs by more is counted again before the difference is posted.", "a quantity, zero or more"),
                new(ShopSettings.GuardFactorName, ((await settings.GuardFactor(db, cancellation)).Thousandths / (decimal)Domain.Fit.Conformity.GuardFactor.Whole).ToString("0.###", CultureInfo.InvariantCulture),
                    "How much of the gauges' uncertainty is kept clear of the limits when halves are paired.", "0 (none) to 1 (full)"),
            }.Concat(FormatChoice.All.Select(choice => new Choice(choice.Name, choice.Of(format), choice.What, choice.May))).ToList();
        }
    }
}
