using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>One variant by its code; refuses an unknown one (<c>UNKNOWN_VARIANT</c>) with the nearest.</summary>
public static class VariantByCode
{
    [AllowedToEveryone]
    public sealed record Query(string Code) : IQuery<VariantView>;

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, VariantView>
    {
        public async Task<Outcome<VariantView>> Handle(Query query, CancellationToken cancellation)
        {
            var key = Code.KeyOf(query.Code);
            if (await db.Variants.Where(row => row.CodeKey == key).Select(VariantView.Of).SingleOrDefaultAsync(cancellation) is { } found) return found;
            return Unknown.Variant(query.Code, await db.Variants.Select(row => row.Code).ToListAsync(cancellation));
        }
    }
}
