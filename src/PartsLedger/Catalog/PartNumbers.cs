using PartsLedger.Data;

namespace PartsLedger.Catalog;

/// <summary>The numbers of parts known by id.</summary>
internal static class PartNumbers
{
    /// <summary>Each part's number as written and its canonical form.</summary>
    public static async Task<Dictionary<int, (string Number, string Key)>> Of(LedgerContext db, IEnumerable<int> partIds, CancellationToken cancellation) =>
        (await CatalogLoaders.InChunks(partIds, ids => db.Parts.Where(row => ids.Contains(row.Id))
            .Select(row => new { row.Id, row.Number, row.NumberKey }), cancellation)).ToDictionary(row => row.Id, row => (row.Number, row.NumberKey));
}
