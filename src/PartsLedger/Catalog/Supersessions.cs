using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Catalog;

/// <summary>The supersessions that lead from some parts to today's numbers.</summary>
internal sealed class Supersessions(ILookup<int, (SupersessionView View, Quantity Quantity)> byOld)
{
    public static async Task<Supersessions> From(LedgerContext db, int[] parts, CancellationToken cancellation)
    {
        List<SupersessionRow> all = [];
        HashSet<int> seen = [.. parts];
        for (var level = parts; level.Length > 0;)
        {
            var rows = await CatalogLoaders.InChunks(level, ids => db.Supersessions.AsNoTracking().Where(row => ids.Contains(row.OldId))
                .OrderBy(row => row.Id), cancellation);
            all.AddRange(rows);
            level = [.. rows.Select(row => row.NewId).Where(seen.Add)];
        }
        return new(all.ToLookup(row => row.OldId, row => (SupersessionView.Of(row), row.Quantity)));
    }

    public (IReadOnlyList<SupersessionView> Chain, IReadOnlyList<FindParts.Successor> Current) Of(int part)
    {
        List<SupersessionView> chain = [];
        HashSet<(int, int)> listed = [];
        SortedDictionary<int, Quantity> current = [];
        Follow(part, Quantity.FromWhole(1), 0);
        return (chain, [.. current.Select(entry => new FindParts.Successor(entry.Key, entry.Value.ToDecimal()))]);

        void Follow(int at, Quantity times, int depth)
        {
            // The importer refuses cycles; a chain longer than any catalogue's is one.
            Invariant.Holds(depth < 1_000);
            if (!byOld[at].Any()) current[at] = current.GetValueOrDefault(at) + times;
            foreach (var (view, quantity) in byOld[at])
            {
                if (listed.Add((view.OldId, view.NewId))) chain.Add(view);
                Follow(view.NewId, times * quantity, depth + 1);
            }
        }
    }
}
