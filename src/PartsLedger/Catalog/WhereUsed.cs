using System.ComponentModel;
using System.Globalization;
using GraphQL;
using GraphQL.DataLoader;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>
/// The positions a part is used at, by variant and position: where the parts list names it, where it names a pack that holds it or, when it
/// is a pack itself, something in it, where it names an old number it replaced, and where it names the number by which it was replaced.
/// </summary>
public static class WhereUsed
{
    [AllowedToEveryone]
    public sealed record Query(string Part, PageRequest Page) : IQuery<Page<Use>>;

    [Name("WhereUsed")]
    [Description("A position at which the part asked for is used, and how.")]
    public sealed record Use(
        [property: Ignore] int PositionId,
        [property: Ignore] int VariantId,
        [property: Description("`direct`: the parts list names the part; `pack`: it names a pack that holds it; `contents`: it names something that is in it; "
            + "`supersession`: it names a number that the part replaced or that replaced it. Several on the way: `supersession and pack`.")]
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
            var ways = await PartUses.Of(db, part.Result.Id, cancellation);
            var ordered = (await ways.Positions(db, cancellation))
                .Select(use => (Use: use, Key: $"{use.VariantKey}\n{use.Position.ToString("D10", CultureInfo.InvariantCulture)}"))
                .Where(entry => query.Page.After is null || string.CompareOrdinal(entry.Key, query.Page.After) > 0)
                .OrderBy(entry => entry.Key, StringComparer.Ordinal).Take(query.Page.First + 1).ToList();

            var page = Page.Of(query.Page, ordered, entry => entry.Key);
            var named = page.Entries.SelectMany(entry => ways.To(entry.Item.Use.PartId)).Select(step => step.Part).Distinct();
            var numbers = await PartNumbers.Of(db, named, cancellation);
            return page.Select(entry => Explain(entry.Use, ways.To(entry.Use.PartId), numbers));
        }
    }

    private static Use Explain(PartUse use, List<(int Part, UseStep? Step)> way, Dictionary<int, (string Number, string Key)> numbers)
    {
        var text = way.ConvertAll(step => numbers[step.Part].Number);
        var clauses = way.Skip(1).Select((step, at) => step.Step switch
        {
            UseStep.HeldBy => $"{text[at + 1]} holds {text[at]}",
            UseStep.Holds => $"{text[at]} holds {text[at + 1]}",
            UseStep.Replaced => $"{text[at + 1]} was replaced by {text[at]}",
            _ => $"{text[at]} was replaced by {text[at + 1]}",
        });
        List<string> how = [];
        if (way.Exists(step => step.Step is UseStep.Replaced or UseStep.ReplacedBy)) how.Add("supersession");
        if (way.Exists(step => step.Step is UseStep.HeldBy)) how.Add("pack");
        if (way.Exists(step => step.Step is UseStep.Holds)) how.Add("contents");
        return new Use(use.PositionId, use.VariantId, how.Count == 0 ? "direct" : string.Join(" and ", how), text,
            way.Count == 1 ? $"The parts list names {text[0]}." : $"The parts list names {text[^1]}: {string.Join(", ", clauses)}.");
    }
}
