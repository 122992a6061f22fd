using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>
/// One part by any of its numbers. A part's own number goes before another part's alias; an alias of several parts is refused
/// (<c>AMBIGUOUS_NUMBER</c>) with their numbers, an unknown number (<c>UNKNOWN_PART</c>) with the nearest.
/// </summary>
public static class PartByNumber
{
    [AllowedToEveryone]
    public sealed record Query(string Number) : IQuery<PartView>;

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, PartView>
    {
        public Task<Outcome<PartView>> Handle(Query query, CancellationToken cancellation) => Find(db, query.Number, cancellation);
    }

    internal static async Task<Outcome<PartView>> Find(LedgerContext db, string number, CancellationToken cancellation)
    {
        var key = PartNumber.Canonical(number);
        if (key.Length is > 0 and <= PartNumber.MaxLength)
        {
            if (await db.Parts.Where(row => row.NumberKey == key).Select(PartView.Of).SingleOrDefaultAsync(cancellation) is { } own) return own;
            var aliased = await db.Aliases.Where(row => row.NumberKey == key).Select(row => row.Part).OrderBy(row => row.NumberKey)
                .Select(PartView.Of).Take(6).ToListAsync(cancellation);
            if (aliased is [var only]) return only;
            if (aliased.Count > 1)
                return new Refusal("AMBIGUOUS_NUMBER", $"'{number}' is a number of several parts.",
                    $"Ask for one of them by its own number: {string.Join(", ", aliased.Select(part => part.Number))}.");
        }
        return Unknown.Part(number, await Similar(db, key, cancellation));
    }

    /// <summary>Numbers worth comparing: those that begin alike, so that a large catalogue is not read through for one typing error.</summary>
    private static async Task<List<string>> Similar(LedgerContext db, string key, CancellationToken cancellation)
    {
        for (var length = Math.Min(3, key.Length); length > 0; length--)
        {
            var start = key[..length];
            var found = await db.Parts.Where(row => row.NumberKey.StartsWith(start)).OrderBy(row => row.NumberKey)
                .Select(row => row.Number).Take(2_000).ToListAsync(cancellation);
            if (found.Count > 0) return found;
        }
        return [];
    }
}
