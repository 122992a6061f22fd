using System.ComponentModel;
using GraphQL;
using GraphQL.DataLoader;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Identification;

/// <summary>
/// Every number that answers a typed one, exact before forgiving, each with why it matched and with what the part has been replaced by. A
/// number that two parts have stands there twice.
/// </summary>
public static class SearchNumbers
{
    [AllowedToEveryone]
    public sealed record Query(string Number, PageRequest Page) : IQuery<Page<Hit>>;

    [Name("NumberHit")]
    [Description("A number that answers what was typed.")]
    public sealed record Hit(
        [property: Ignore] int PartId,
        [property: Description("The number that answers, as written.")] string Number,
        [property: Description("Whose number it is, when it is not the part's own and that is known.")] string? Source,
        [property: Description("It is another number of the part, not its own.")] bool Alias,
        [property: Description("It is exactly what was typed but for case, spaces, dashes, dots and slashes. Anything else was read forgivingly.")] bool Exact,
        [property: Description("How what was typed was read to match, in words.")] string Why,
        [property: Description("The replacements from the part to the current numbers, in order; empty while it is current.")]
        IReadOnlyList<SupersessionView> Chain,
        [property: Description("What counts today in place of one piece of the part.")] IReadOnlyList<FindParts.Successor> Current)
    {
        [Description("The part whose number it is.")]
        public IDataLoaderResult<PartView> Part([FromServices] CatalogLoaders loaders) => loaders.Parts.Load(PartId);
    }

    public sealed class Handler(LedgerContext db, NumberHits hits) : IQueryHandler<Query, Page<Hit>>
    {
        public async Task<Outcome<Page<Hit>>> Handle(Query query, CancellationToken cancellation)
        {
            var number = NumberQuery.Read(query.Number);
            if (!number.Succeeded) return number.Refusal;
            var found = await hits.Find(number.Result, alsoSimilar: true, cancellation);
            var page = Page.Of(query.Page, found);
            if (!page.Succeeded) return page.Refusal;
            var chains = await Supersessions.From(db, [.. page.Result.Entries.Select(entry => entry.Item.PartId).Distinct()], cancellation);
            return page.Result.Select(hit =>
            {
                var (part, written, source, isAlias, match) = hit;
                var (chain, current) = chains.Of(part);
                return new Hit(part, written, source, isAlias, match.IsExact, match.Why, chain, current);
            });
        }
    }
}
