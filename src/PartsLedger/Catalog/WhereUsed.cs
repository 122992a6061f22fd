using System.ComponentModel;
using System.Globalization;
using GraphQL;
using GraphQL.DataLoader;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>
/// The positions a part is used at, by variant and position: where the parts list names it, where it names a pack that holds it, where it
/// names an old number it replaced, and where it names the number by which it was replaced.
/// </summary>
public static class WhereUsed
{
    public sealed record Query(string Part, PageRequest Page) : IQuery<Page<Use>>;

    [Name("WhereUsed")]
    [Description("A position at which the part asked for is used, and how.")]
    public sealed record Use(
        [property: Ignore] int PositionId,
        [property: Ignore] int VariantId,
        [property: Description("`direct`: the parts list names the part; `pack`: it names a pack that holds it; "
            + "`supersession`: it names a number that the part replaced or that replaced it; `supersession and pack`: both on the way.")]
        string How,
        [property: Description("The numbers from the part asked for to the one the parts list names, both included.")]
        IReadOnlyList<string> Through,
        [property: Description("How the part comes to be used here, in words.")] string Why)
    {
        [Description("The variant whose parts list it is.")]
        public IDataLoaderResult<VariantView> Variant([FromServices] CatalogLoaders loaders) => loaders.Variants.Load(VariantId);

        [Description("The position on the parts list.")]
        public IDataLoaderResult<PositionView> Position([FromServices] CatalogLoaders loaders) => loaders.PositionById.Load(PositionId);
    }

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<Use>>
    {
        public async Task<Outcome<Page<Use>>> Handle(Query query, CancellationToken cancellation)
        {
            var part = await PartByNumber.Find(db, query.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            var ways = await Ways.From(db, part.Result.Id, cancellation);
            var positions = await CatalogLoaders.InChunks(ways.Parts, ids => db.Positions.Where(row => ids.Contains(row.PartId))
                .Select(row => new { row.Id, row.VariantId, row.Variant.CodeKey, row.Position, row.PartId }), cancellation);
            var ordered = positions.Select(row => (Row: row, Key: $"{row.CodeKey}\n{row.Position.ToString("D10", CultureInfo.InvariantCulture)}"))
                .Where(entry => query.Page.After is null || string.CompareOrdinal(entry.Key, query.Page.After) > 0)
                .OrderBy(entry => entry.Key, StringComparer.Ordinal).Take(query.Page.First + 1).ToList();

            var page = Page.Of(query.Page,
                [.. ordered.Select(entry => (Position: entry.Row.Id, Variant: entry.Row.VariantId, Part: entry.Row.PartId, entry.Key))],
                entry => entry.Key);
            var named = page.Entries.SelectMany(entry => ways.To(entry.Item.Part)).Select(step => step.Part).Distinct();
            var numbers = await PartNumbers.Of(db, named, cancellation);
            return page.Select(entry => Explain(entry.Position, entry.Variant, ways.To(entry.Part), numbers));
        }
    }

    private static Use Explain(int position, int variant, List<(int Part, Step? Step)> way, Dictionary<int, (string Number, string Key)> numbers)
    {
        var text = way.ConvertAll(step => numbers[step.Part].Number);
        var clauses = way.Skip(1).Select((step, at) => step.Step switch
        {
            Step.Held => $"{text[at + 1]} holds {text[at]}",
            Step.Replaced => $"{text[at + 1]} was replaced by {text[at]}",
            _ => $"{text[at]} was replaced by {text[at + 1]}",
        });
        var packs = way.Exists(step => step.Step is Step.Held);
        var supersessions = way.Exists(step => step.Step is Step.Replaced or Step.ReplacedBy);
        return new Use(position, variant, (packs, supersessions) switch
        {
            (false, false) => "direct",
            (true, false) => "pack",
            (false, true) => "supersession",
            _ => "supersession and pack",
        }, text, way.Count == 1 ? $"The parts list names {text[0]}." : $"The parts list names {text[^1]}: {string.Join(", ", clauses)}.");
    }

    private enum Step { Held, Replaced, ReplacedBy }

    /// <summary>Every number by which the part may stand on a parts list, with the shortest way to it.</summary>
    private sealed class Ways
    {
        private readonly Dictionary<int, (int From, Step? Step)> _known = [];

        public IReadOnlyCollection<int> Parts => _known.Keys;

        public static async Task<Ways> From(LedgerContext db, int part, CancellationToken cancellation)
        {
            var ways = new Ways();
            ways._known.Add(part, (part, null));

            // First to what it replaced and what holds it, in any order; that way always leads to something it can serve today.
            await ways.Outward(db, [part], replaced: true, cancellation);

            // Then along its own replacements; from there only outward to packs, since a replacement's other ancestors never took this part.
            for (int[] level = [part]; level.Length > 0;)
            {
                var rows = await CatalogLoaders.InChunks(level, ids => db.Supersessions.Where(row => ids.Contains(row.OldId))
                    .OrderBy(row => row.Id).Select(row => new { row.OldId, row.NewId }), cancellation);
                level = [.. rows.Where(row => ways._known.TryAdd(row.NewId, (row.OldId, Step.ReplacedBy))).Select(row => row.NewId)];
                await ways.Outward(db, level, replaced: false, cancellation);
            }
            return ways;
        }

        public List<(int Part, Step? Step)> To(int part)
        {
            List<(int, Step?)> way = [];
            for (var at = part; ; at = _known[at].From)
            {
                way.Add((at, _known[at].Step));
                if (_known[at].Step is null) break;
            }
            way.Reverse();
            return way;
        }

        private async Task Outward(LedgerContext db, int[] level, bool replaced, CancellationToken cancellation)
        {
            while (level.Length > 0)
            {
                List<int> next = [];
                var packs = await CatalogLoaders.InChunks(level, ids => db.PackContents.Where(row => ids.Contains(row.PartId))
                    .OrderBy(row => row.Id).Select(row => new { row.PartId, row.PackId }), cancellation);
                next.AddRange(packs.Where(row => _known.TryAdd(row.PackId, (row.PartId, Step.Held))).Select(row => row.PackId));
                if (replaced)
                {
                    var olds = await CatalogLoaders.InChunks(level, ids => db.Supersessions.Where(row => ids.Contains(row.NewId))
                        .OrderBy(row => row.Id).Select(row => new { row.OldId, row.NewId }), cancellation);
                    next.AddRange(olds.Where(row => _known.TryAdd(row.OldId, (row.NewId, Step.Replaced))).Select(row => row.OldId));
                }
                level = [.. next];
            }
        }
    }
}
