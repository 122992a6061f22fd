using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>What parts cost and what they are sold for, by number.</summary>
public static class PriceList
{
    /// <summary>Parts that are shown at once.</summary>
    public const int Most = 50;

    /// <param name="Begin">The number to begin with; the first when empty.</param>
    /// <param name="Missing">Only those that are sold by themselves and have no price.</param>
    [AllowedToEveryone]
    public sealed record Query(string Begin, bool Missing) : IQuery<Answer>;

    /// <param name="Next">The number that the rest begins with; null where there is no more.</param>
    /// <param name="Unpriced">How many parts that are sold by themselves have no price.</param>
    public sealed record Answer(IReadOnlyList<Entry> Entries, string? Next, int Unpriced);

    public sealed record Entry(string Part, string Name, Money Cost, Money? Price);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var begin = PartNumber.Canonical(query.Begin);
            var unpriced = db.Parts.Where(row => row.Price == null && row.Service == PartService.Separate && row.Supplied);
            var rows = await (query.Missing ? unpriced : db.Parts).Where(row => string.Compare(row.NumberKey, begin) >= 0).OrderBy(row => row.NumberKey)
                .Take(Most + 1).Select(row => new Entry(row.Number, row.Name, row.Cost, row.Price)).ToListAsync(cancellation);
            return new Answer([.. rows.Take(Most)], rows.Count > Most ? rows[^1].Part : null, await unpriced.CountAsync(cancellation));
        }
    }
}
