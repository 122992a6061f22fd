using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>What parts are sold for and how long an order takes, as far as the catalogue says.</summary>
public static class TermsOfParts
{
    /// <param name="Numbers">The parts' own numbers; others are left out.</param>
    [AllowedToEveryone]
    public sealed record Query(IReadOnlyList<string> Numbers) : IQuery<IReadOnlyDictionary<string, Terms>>;

    /// <param name="Price">What one piece is sold for; null when no price is set.</param>
    /// <param name="LeadDays">Days until an ordered piece is here; null when nobody knows.</param>
    public sealed record Terms(Money? Price, int? LeadDays);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, IReadOnlyDictionary<string, Terms>>
    {
        /// <returns>By canonical number.</returns>
        public async Task<Outcome<IReadOnlyDictionary<string, Terms>>> Handle(Query query, CancellationToken cancellation)
        {
            var terms = new Dictionary<string, Terms>(StringComparer.Ordinal);
            foreach (var keys in query.Numbers.Select(PartNumber.Canonical).Distinct(StringComparer.Ordinal).Chunk(CatalogLoaders.IdsPerQuery))
                foreach (var row in await db.Parts.Where(row => keys.Contains(row.NumberKey))
                    .Select(row => new { row.NumberKey, row.Price, row.LeadDays }).ToListAsync(cancellation))
                    terms.Add(row.NumberKey, new(row.Price, row.LeadDays));
            return terms;
        }
    }
}
