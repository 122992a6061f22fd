using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>The variants of a family, of a pressure class, of both or all of them, by code.</summary>
public static class FindVariants
{
    [AllowedToEveryone]
    public sealed record Query(string? Family, string? PressureClass, PageRequest Page) : IQuery<Page<VariantView>>;

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<VariantView>>
    {
        public async Task<Outcome<Page<VariantView>>> Handle(Query query, CancellationToken cancellation)
        {
            IQueryable<VariantRow> rows = db.Variants;
            if (query.Family is { } family)
            {
                var key = Code.KeyOf(family);
                if (!await db.Families.AnyAsync(row => row.CodeKey == key, cancellation))
                    return Unknown.Family(family, await db.Families.Select(row => row.Code).ToListAsync(cancellation));
                rows = rows.Where(row => row.Family.CodeKey == key);
            }
            if (query.PressureClass is { } pressureClass)
            {
                var key = Code.KeyOf(pressureClass);
                if (!await db.PressureClasses.AnyAsync(row => row.CodeKey == key, cancellation))
                    return Unknown.PressureClass(pressureClass, await db.PressureClasses.Select(row => row.Code).ToListAsync(cancellation));
                rows = rows.Where(row => row.PressureClass.CodeKey == key);
            }
            if (query.Page.After is { } after) rows = rows.Where(row => string.Compare(row.CodeKey, after) > 0);
            var found = await rows.OrderBy(row => row.CodeKey).Select(VariantView.Of).Take(query.Page.First + 1).ToListAsync(cancellation);
            return Page.Of(query.Page, found, view => view.Key);
        }
    }
}
