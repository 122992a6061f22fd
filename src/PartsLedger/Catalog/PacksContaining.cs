using System.ComponentModel;
using GraphQL;
using GraphQL.DataLoader;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>The packs that hold a part at any depth, by number, with how many pieces one pack holds in all.</summary>
public static class PacksContaining
{
    [AllowedToEveryone]
    public sealed record Query(string Part, PageRequest Page) : IQuery<Page<Holding>>;

    [Name("PackHolding")]
    [Description("A pack that holds the part asked for, itself or inside packs within it.")]
    public sealed record Holding(
        [property: Ignore] int PackId,
        [property: Description("Pieces of the part in one pack, over all the ways it is in there.")] decimal Pieces,
        [property: Description("The part lies in the pack itself, not only in a pack within it.")] bool Direct,
        [property: Description("The numbers of the packs between, from the part outwards, on the shortest way; empty when direct.")]
        IReadOnlyList<string> Through)
    {
        [Description("The pack.")]
        public IDataLoaderResult<PartView> Pack([FromServices] CatalogLoaders loaders) => loaders.Parts.Load(PackId);
    }

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<Holding>>
    {
        public async Task<Outcome<Page<Holding>>> Handle(Query query, CancellationToken cancellation)
        {
            var part = await PartByNumber.Find(db, query.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;

            // Outwards, level by level: statements grow with the depth of packs, not with their number.
            var target = part.Result.Id;
            var outward = new Dictionary<int, int>();
            var contents = new Dictionary<int, List<(int Part, Quantity Quantity)>>();
            for (int[] level = [target]; level.Length > 0;)
            {
                var rows = await CatalogLoaders.InChunks(level, ids => db.PackContents.Where(row => ids.Contains(row.PartId))
                    .OrderBy(row => row.Id).Select(row => new { row.PackId, row.PartId, row.Quantity }), cancellation);
                List<int> next = [];
                foreach (var row in rows)
                {
                    if (!contents.TryGetValue(row.PackId, out var inside)) contents.Add(row.PackId, inside = []);
                    inside.Add((row.PartId, row.Quantity));
                    if (outward.TryAdd(row.PackId, row.PartId)) next.Add(row.PackId);
                }
                level = [.. next];
            }

            var numbers = await PartNumbers.Of(db, outward.Keys, cancellation);
            var pieces = new Pieces(target, contents);
            var ordered = outward.Keys.OrderBy(pack => numbers[pack].Key, StringComparer.Ordinal)
                .Where(pack => query.Page.After is null || string.CompareOrdinal(numbers[pack].Key, query.Page.After) > 0).Take(query.Page.First + 1);
            return Page.Of(query.Page, [.. ordered.Select(pack => (Pack: pack, numbers[pack].Key))], entry => entry.Key)
                .Select(entry => new Holding(entry.Pack, pieces.In(entry.Pack).ToDecimal(), contents[entry.Pack].Exists(inside => inside.Part == target),
                    Between(entry.Pack)));

            List<string> Between(int pack)
            {
                List<string> way = [];
                for (var inner = outward[pack]; inner != target; inner = outward[inner]) way.Add(numbers[inner].Number);
                way.Reverse();
                return way;
            }
        }
    }

    private sealed class Pieces(int target, Dictionary<int, List<(int Part, Quantity Quantity)>> contents)
    {
        private readonly Dictionary<int, Quantity> _known = new() { [target] = Quantity.FromWhole(1) };
        private readonly HashSet<int> _open = [];

        public Quantity In(int pack)
        {
            if (_known.TryGetValue(pack, out var known)) return known;
            var holdsNotItself = _open.Add(pack);
            Invariant.Holds(holdsNotItself);
            var sum = Quantity.Zero;
            foreach (var (part, quantity) in contents[pack]) sum += quantity * In(part);
            _open.Remove(pack);
            return _known[pack] = sum;
        }
    }
}
