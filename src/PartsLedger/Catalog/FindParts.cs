using System.ComponentModel;
using GraphQL;
using GraphQL.DataLoader;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>
/// The parts of which a number begins with what was typed, in canonical form: own numbers, aliases and superseded numbers alike. Exact
/// matches come first, then by number. Without a search every part.
/// </summary>
public static class FindParts
{
    [AllowedToEveryone]
    public sealed record Query(string? Search, PageRequest Page) : IQuery<Page<Hit>>;

    [Name("PartHit")]
    [Description("A part that was found, and how.")]
    public sealed record Hit(
        [property: Ignore] PartView Found,
        [property: Description("`number`: by its own number; `alias`: by another number of it; `superseded`: by its own "
            + "number, which has been replaced; `listed`: nothing was searched for.")] string Matched,
        [property: Description("The number that matched, as written.")] string Number,
        [property: Description("Whose number it is, when it is an alias.")] string? Source,
        [property: Description("The whole number is what was searched for, not only its beginning.")] bool Exact,
        [property: Description("The replacements from the part found to the current numbers, in order; empty while it is current.")]
        IReadOnlyList<SupersessionView> Chain,
        [property: Description("What counts today in place of one piece of the part found: itself, its replacement or the set of them.")]
        IReadOnlyList<Successor> Current)
    {
        [Description("The part found.")]
        public PartView Part => Found;
    }

    [Name("CurrentPart")]
    [Description("So many of a current part.")]
    public sealed record Successor(
        [property: Ignore] int PartId,
        [property: Description("Pieces; quantities multiply along the chain.")] decimal Quantity)
    {
        [Description("The current part.")]
        public IDataLoaderResult<PartView> Part([FromServices] CatalogLoaders loaders) => loaders.Parts.Load(PartId);
    }

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<Hit>>
    {
        public async Task<Outcome<Page<Hit>>> Handle(Query query, CancellationToken cancellation)
        {
            var key = string.IsNullOrWhiteSpace(query.Search) ? "" : PartNumber.Canonical(query.Search);
            if ((key.Length == 0 && !string.IsNullOrWhiteSpace(query.Search)) || key.Length > PartNumber.MaxLength)
                return new Refusal("BAD_SEARCH", "What was searched for cannot be a part number.",
                    $"Search for 1 to {PartNumber.MaxLength} letters and digits; spaces, dashes, dots and slashes do not matter.");

            var page = await Read(key, query.Page, cancellation);
            if (!page.Succeeded) return page.Refusal;
            int[] ids = [.. page.Result.Entries.Select(entry => entry.Item.Part.Id)];
            var aliases = (key.Length == 0 ? [] : await db.Aliases.AsNoTracking().Where(row => ids.Contains(row.PartId) && row.NumberKey.StartsWith(key))
                .ToListAsync(cancellation)).ToLookup(row => row.PartId);
            var chains = await Supersessions.From(db, ids, cancellation);
            return page.Result.Select(found =>
            {
                var part = found.Part;
                var (chain, current) = chains.Of(part.Id);

                // Its own number counts before an alias, unless only the alias is the whole of what was typed.
                var own = part.Key.StartsWith(key, StringComparison.Ordinal) && (!found.Exact || part.Key == key);
                var alias = own ? null
                    : aliases[part.Id].OrderBy(row => row.NumberKey.Length).ThenBy(row => row.NumberKey, StringComparer.Ordinal).First();
                return new Hit(part, key.Length == 0 ? "listed" : alias is not null ? "alias" : chain.Count > 0 ? "superseded" : "number",
                    alias?.Number ?? part.Number, alias?.Source, found.Exact, chain, current);
            });
        }

        private async Task<Outcome<Page<Found>>> Read(string key, PageRequest page, CancellationToken cancellation)
        {
            if (key.Length == 0)
            {
                var all = db.Parts.OrderBy(row => row.NumberKey).Select(PartView.Of);
                if (page.After is { } last)
                    all = db.Parts.Where(row => string.Compare(row.NumberKey, last) > 0).OrderBy(row => row.NumberKey).Select(PartView.Of);
                return Page.Of(page, (await all.Take(page.First + 1).ToListAsync(cancellation)).ConvertAll(part => new Found(part, false)),
                    found => found.Part.Key);
            }

            var rows = db.Parts.Where(row => row.NumberKey.StartsWith(key)
                    || db.Aliases.Where(alias => alias.NumberKey.StartsWith(key)).Select(alias => alias.PartId).Contains(row.Id))
                .Select(row => new
                {
                    Row = row,
                    Exact = row.NumberKey == key || db.Aliases.Where(alias => alias.NumberKey == key).Select(alias => alias.PartId).Contains(row.Id),
                });

            // A place is the rank (exact or not) and the number: "1" or "0" before the key.
            if (page.After is { } after)
            {
                if (after is not (['0' or '1', ..])) return PageRequest.BadCursor;
                var place = after[1..];
                rows = after[0] == '1'
                    ? rows.Where(row => !row.Exact || string.Compare(row.Row.NumberKey, place) > 0)
                    : rows.Where(row => !row.Exact && string.Compare(row.Row.NumberKey, place) > 0);
            }
            var found = await rows.OrderBy(row => row.Exact ? 0 : 1).ThenBy(row => row.Row.NumberKey).Take(page.First + 1)
                .Select(row => new { row.Row.Id, row.Exact }).ToListAsync(cancellation);
            int[] ids = [.. found.Select(row => row.Id)];
            var parts = await db.Parts.Where(row => ids.Contains(row.Id)).Select(PartView.Of).ToDictionaryAsync(part => part.Id, cancellation);
            return Page.Of(page, found.ConvertAll(row => new Found(parts[row.Id], row.Exact)), hit => $"{(hit.Exact ? 1 : 0)}{hit.Part.Key}");
        }
    }

    private readonly record struct Found(PartView Part, bool Exact);
}
