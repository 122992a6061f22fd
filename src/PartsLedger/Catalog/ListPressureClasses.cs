using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>Every pressure class, by code: a shop has a handful.</summary>
public static class ListPressureClasses
{
    [AllowedToEveryone]
    public sealed record Query : IQuery<IReadOnlyList<PressureClassView>>;

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, IReadOnlyList<PressureClassView>>
    {
        public async Task<Outcome<IReadOnlyList<PressureClassView>>> Handle(Query query, CancellationToken cancellation) =>
            (await db.PressureClasses.AsNoTracking().OrderBy(row => row.CodeKey).ToListAsync(cancellation)).ConvertAll(PressureClassView.Of);
    }
}
