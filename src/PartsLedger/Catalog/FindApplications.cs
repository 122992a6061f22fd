using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>The machines of a make, a model and a model year (each may be left open) and the variants they carry, in order of entry.</summary>
public static class FindApplications
{
    [AllowedToEveryone]
    public sealed record Query(string? Make, string? Model, int? Year, PageRequest Page) : IQuery<Page<ApplicationView>>;

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<ApplicationView>>
    {
        public async Task<Outcome<Page<ApplicationView>>> Handle(Query query, CancellationToken cancellation)
        {
            IQueryable<ApplicationRow> rows = db.Applications;
            if (query.Make is { } make)
            {
                var key = Code.KeyOf(make);
                rows = rows.Where(row => row.MakeKey == key);
            }
            if (query.Model is { } model)
            {
                var key = Code.KeyOf(model);
                rows = rows.Where(row => row.ModelKey == key);
            }
            if (query.Year is { } year) rows = rows.Where(row => row.YearFrom <= year && (row.YearTo == null || row.YearTo >= year));
            if (query.Page.After is { } after)
            {
                if (!int.TryParse(after, CultureInfo.InvariantCulture, out var last)) return PageRequest.BadCursor;
                rows = rows.Where(row => row.Id > last);
            }
            var found = await rows.OrderBy(row => row.Id).Select(ApplicationView.Of).Take(query.Page.First + 1).ToListAsync(cancellation);
            return Page.Of(query.Page, found, view => view.Id.ToString(CultureInfo.InvariantCulture));
        }
    }
}
