using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Identification;

/// <summary>One of a part's numbers that answers a typed one.</summary>
/// <param name="Number">The number that answers, as written.</param>
/// <param name="Source">Whose number it is, when it is an alias.</param>
/// <param name="IsAlias">Another number of the part, not its own.</param>
public sealed record NumberHit(int PartId, string Number, string? Source, bool IsAlias, NumberMatch Match);

/// <summary>Finds parts by a number as somebody read it. Only plain equality on indexed columns is asked of the database.</summary>
public sealed class NumberHits(LedgerContext db)
{
    /// <summary>Whether a part has it as its own number or an alias, just as it was typed.</summary>
    public async Task<bool> Has(NumberQuery number, CancellationToken cancellation) =>
        (await Read([number.FoldedKey], number, cancellation)).Exists(hit => hit.Match.IsExact);

    /// <summary>
    /// Every own number and alias that answers, best first; equals by number, own numbers first. Exact ones alone where there are any, unless
    /// similar ones are wanted besides. A number that means two parts stands there twice.
    /// </summary>
    public async Task<IReadOnlyList<NumberHit>> Find(NumberQuery number, bool alsoSimilar, CancellationToken cancellation)
    {
        var hits = await Read([number.FoldedKey], number, cancellation);
        if (!alsoSimilar && hits.Exists(hit => hit.Match.IsExact)) return InOrder(hits.Where(hit => hit.Match.IsExact));
        foreach (var keys in number.NearKeys().Where(key => key != number.FoldedKey).Chunk(CatalogLoaders.IdsPerQuery))
            hits.AddRange(await Read(keys, number, cancellation));
        return InOrder(hits.Where(hit => hit.Match.IsMatch));
    }

    private async Task<List<NumberHit>> Read(string[] keys, NumberQuery number, CancellationToken cancellation)
    {
        var own = await db.Parts.Where(row => keys.Contains(row.FoldedKey))
            .Select(row => new { row.Id, row.Number, row.NumberKey }).ToListAsync(cancellation);
        var aliases = await db.Aliases.Where(row => keys.Contains(row.FoldedKey))
            .Select(row => new { row.PartId, row.Number, row.NumberKey, row.Source }).ToListAsync(cancellation);
        return [.. own.Select(row => new NumberHit(row.Id, row.Number, null, false, NumberMatch.Judge(number, row.NumberKey))),
            .. aliases.Select(row => new NumberHit(row.PartId, row.Number, row.Source, true, NumberMatch.Judge(number, row.NumberKey)))];
    }

    private static List<NumberHit> InOrder(IEnumerable<NumberHit> hits) =>
        [.. hits.OrderBy(hit => hit.Match).ThenBy(hit => hit.IsAlias).ThenBy(hit => hit.Source, StringComparer.Ordinal).ThenBy(hit => hit.PartId)];
}
