using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Jobs;

/// <summary>Everything that is inside packs, at every depth: a pack within a pack counts, and what is in it counts too.</summary>
internal static class PackPieces
{
    /// <returns>By pack, how many of each part one of it holds. A part without contents is left out.</returns>
    public static async Task<IReadOnlyDictionary<int, IReadOnlyDictionary<int, Quantity>>> Of(
        LedgerContext db, IReadOnlyCollection<int> partIds, CancellationToken cancellation)
    {
        var pieces = new Dictionary<int, Dictionary<int, Quantity>>();
        var frontier = partIds.Distinct().Select(id => (Top: id, Inside: id, Quantity: Quantity.FromWhole(1))).ToList();
        while (frontier.Count > 0)
        {
            var contents = new List<(int Pack, int Part, Quantity Quantity)>();
            foreach (var some in frontier.Select(one => one.Inside).Distinct().Chunk(900))
                contents.AddRange((await db.PackContents.AsNoTracking().Where(row => some.Contains(row.PackId))
                    .Select(row => new { row.PackId, row.PartId, row.Quantity }).ToListAsync(cancellation))
                    .Select(row => (row.PackId, row.PartId, row.Quantity)));
            var inPack = contents.ToLookup(row => row.Pack);
            frontier = [.. frontier.SelectMany(one =>
                inPack[one.Inside].Select(row => (one.Top, Inside: row.Part, Quantity: row.Quantity * one.Quantity)))];
            foreach (var (top, inside, quantity) in frontier)
            {
                if (!pieces.TryGetValue(top, out var of)) pieces.Add(top, of = []);
                of[inside] = of.GetValueOrDefault(inside) + quantity;
            }
        }
        return pieces.ToDictionary(pack => pack.Key, pack => (IReadOnlyDictionary<int, Quantity>)pack.Value);
    }
}
