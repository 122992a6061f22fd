using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Identification;

/// <summary>A variant as identification sees it.</summary>
/// <param name="Weight">The number of applications that point to it, at least 1.</param>
/// <param name="Values">What is recorded of it, by feature.</param>
public sealed record Pump(
    int Id, string Variant, string Family, string PressureClass, ProductionRange Made, long Weight, IReadOnlyList<KeyValuePair<string, string?>> Values)
{
    /// <summary>As a candidate of a plan.</summary>
    /// <param name="kitClass">Which kit it needs, where a job is in question.</param>
    public Candidate Candidate(int? kitClass) => new(Variant, Weight, kitClass, Values);
}

/// <summary>Reads variants and the guide by which they are told apart.</summary>
public sealed class Pumps(LedgerContext db)
{
    /// <param name="ids">Which variants; null for all of them.</param>
    /// <param name="cancellation">Ends the reading.</param>
    /// <returns>By code.</returns>
    public async Task<IReadOnlyList<Pump>> Read(IReadOnlyCollection<int>? ids, CancellationToken cancellation)
    {
        var wanted = ids ?? await db.Variants.Select(row => row.Id).ToListAsync(cancellation);
        var variants = await CatalogLoaders.InChunks(wanted, some => db.Variants.Where(row => some.Contains(row.Id))
            .Select(row => new { row.Id, row.Code, Family = row.Family.Code, Class = row.PressureClass.Code, row.BuiltFrom, row.BuiltTo, row.SerialFrom, row.SerialTo }),
            cancellation);
        var values = (await CatalogLoaders.InChunks(wanted, some => db.VariantFeatures.Where(row => some.Contains(row.VariantId))
            .Select(row => new { row.VariantId, row.Feature.Code, row.Value }), cancellation)).ToLookup(row => row.VariantId);
        var weights = (await CatalogLoaders.InChunks(wanted, some => db.Applications.Where(row => some.Contains(row.VariantId))
            .GroupBy(row => row.VariantId).Select(group => new { Id = group.Key, Count = group.LongCount() }), cancellation)).ToDictionary(row => row.Id, row => row.Count);
        return [.. variants.OrderBy(row => row.Code, StringComparer.Ordinal).Select(row => new Pump(row.Id, row.Code, row.Family, row.Class,
            new ProductionRange(row.BuiltFrom, row.BuiltTo, row.SerialFrom, row.SerialTo), Math.Max(1, weights.GetValueOrDefault(row.Id)),
            [.. values[row.Id].Select(value => KeyValuePair.Create(value.Code, (string?)value.Value))]))];
    }

    /// <summary>Every feature of the guide, in the order in which it was written.</summary>
    public async Task<IReadOnlyList<Feature>> Guide(CancellationToken cancellation) =>
        await db.Features.OrderBy(row => row.Id).Select(row => new Feature(row.Code, row.Question, row.Seconds, row.Teardown)).ToListAsync(cancellation);
}
