using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>The machines that carry a variant which uses a part, by whatever way <see cref="WhereUsed"/> knows, in order of entry.</summary>
public static class MachinesUsing
{
    [AllowedToEveryone]
    public sealed record Query(string Part, PageRequest Page) : IQuery<Page<ApplicationView>>;

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<ApplicationView>>
    {
        public async Task<Outcome<Page<ApplicationView>>> Handle(Query query, CancellationToken cancellation)
        {
            var part = await PartByNumber.Find(db, query.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            var last = 0;
            if (query.Page.After is { } after && !int.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out last)) return PageRequest.BadCursor;

            var uses = await (await PartUses.Of(db, part.Result.Id, cancellation)).Positions(db, cancellation);
            var found = await CatalogLoaders.InChunks(uses.Select(use => use.VariantId).Distinct(), some => db.Applications
                .Where(row => some.Contains(row.VariantId) && row.Id > last).OrderBy(row => row.Id).Take(query.Page.First + 1).Select(ApplicationView.Of), cancellation);
            return Page.Of(query.Page, [.. found.OrderBy(view => view.Id).Take(query.Page.First + 1)], view => view.Id.ToString(CultureInfo.InvariantCulture));
        }
    }
}
