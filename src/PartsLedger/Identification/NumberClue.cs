using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Identification;

/// <summary>
/// Which variants a number points to: a variant's own code, or a part's number or alias, wherever the part is used. A number that is known
/// exactly counts alone; else one that was read differently (look-alikes, leading zeros); else one that is a slip away. Each says so.
/// </summary>
public sealed class NumberClue(LedgerContext db, NumberHits hits)
{
    // Parts followed to their variants; a number with more readings than these tells nothing.
    private const int MostParts = 20;

    public async Task<Outcome<Clue>> Read(string text, CancellationToken cancellation)
    {
        var code = Code.KeyOf(text);
        if (code.Length <= Code.MaxLength
            && await db.Variants.Where(row => row.CodeKey == code).Select(row => (int?)row.Id).SingleOrDefaultAsync(cancellation) is { } itself)
            return new Clue("number", text.Trim(), new Dictionary<int, string> { [itself] = "that is its own code" });

        var query = NumberQuery.Read(text);
        if (!query.Succeeded) return query.Refusal;
        var found = await hits.Find(query.Result, alsoSimilar: false, cancellation);
        var best = found.Where(hit => TierOf(hit.Match) == TierOf(found[0].Match)).ToList();
        var parts = best.Select(hit => hit.PartId).Distinct().Take(MostParts).ToList();
        var fits = new Dictionary<int, string>();
        foreach (var part in parts)
        {
            var uses = await PartUses.Of(db, part, cancellation);
            var reason = Reason(best.First(hit => hit.PartId == part));
            foreach (var use in (await uses.Positions(db, cancellation)).OrderBy(use => uses.To(use.PartId).Count).ThenBy(use => use.Position))
                fits.TryAdd(use.VariantId, $"{reason} leads to position {use.Position}{(use.PartId == part ? "" : " by way of another number")}");
        }
        return new Clue("number", text.Trim(), fits, Note(text, best, parts.Count, fits.Count));
    }

    private static int TierOf(NumberMatch match) => match.Kind switch
    {
        NumberMatchKind.Exact => 0,
        NumberMatchKind.LeadingZeros or NumberMatchKind.LookAlike => 1,
        _ => 2,
    };

    private static string Reason(NumberHit hit) =>
        $"number {hit.Number}{(hit.IsAlias ? $" of {hit.Source ?? "another list"}" : "")}{(hit.Match.IsExact ? "" : $" ({hit.Match.Why})")}";

    private static string? Note(string text, List<NumberHit> best, int parts, int variants)
    {
        var written = text.Trim();
        if (best.Count == 0) return $"No part, no other number and no variant is {written}, or one slip away from it.";
        if (variants == 0) return $"{best[0].Number} is known, but no parts list leads to it.";
        if (!best[0].Match.IsExact)
            return $"{written} itself is not known: it was read as {string.Join(", ", best.Select(hit => hit.Number).Distinct(StringComparer.Ordinal).Take(5))}. Look at the number again.";
        return parts > 1 ? $"{written} is a number of {parts} different parts: {string.Join(", ", best.Select(hit => hit.Source ?? hit.Number).Distinct(StringComparer.Ordinal))}." : null;
    }
}
