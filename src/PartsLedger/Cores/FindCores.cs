using System.ComponentModel;
using System.Globalization;
using GraphQL;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Cores;

/// <summary>The cores, in order of entry, of one family or all, in one state or all.</summary>
public static class FindCores
{
    /// <param name="State">As the house says it: arrived, graded, torn down, sent back, scrapped; null for all.</param>
    [AllowedToEveryone]
    public sealed record Query(string? Family, string? State, PageRequest Page) : IQuery<Page<Found>>;

    [Name("CoreFound")]
    [Description("A core, in short.")]
    public sealed record Found(
        [property: Ignore] int Id,
        [property: Description("The core's tag.")] string Tag,
        [property: Description("What it is now.")] string State,
        [property: Description("Its grade; null while not graded.")] string? Grade,
        [property: Description("Its family's code; null while not known.")] string? Family,
        [property: Description("Its variant's code; null while not known.")] string? Variant,
        [property: Description("The day it came in.")] DateOnly? ReceivedOn);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<Found>>
    {
        public async Task<Outcome<Page<Found>>> Handle(Query query, CancellationToken cancellation)
        {
            var rows = db.Cores.AsNoTracking();
            if (query.Family is { } family)
            {
                var key = Code.KeyOf(family);
                if (!await db.Families.AnyAsync(row => row.CodeKey == key, cancellation))
                    return Unknown.Family(family, await db.Families.Select(row => row.Code).ToListAsync(cancellation));
                rows = rows.Where(row => row.Family!.CodeKey == key);
            }
            if (query.State is { } word)
            {
                if (!Words.TryParse(word, out Domain.Cores.CoreState state))
                    return new Refusal("UNKNOWN_STATE", $"No core is ever '{word}'.", $"The states are {string.Join(", ", Words.All<Domain.Cores.CoreState>())}.");
                rows = rows.Where(row => row.State == state);
            }
            if (query.Page.After is { } after)
            {
                if (!int.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out var last)) return PageRequest.BadCursor;
                rows = rows.Where(row => row.Id > last);
            }
            var found = await rows.OrderBy(row => row.Id).Take(query.Page.First + 1)
                .Select(row => new { row.Id, row.Tag, row.State, row.Grade, Family = row.Family!.Code, Variant = row.Variant!.Code, row.ReceivedOn }).ToListAsync(cancellation);
            return Page.Of(query.Page, found.ConvertAll(row => new Found(row.Id, row.Tag, CoreCourse.Words(row.State),
                row.Grade is { } grade ? Words.Of(grade) : null, row.Family, row.Variant, row.ReceivedOn)), row => row.Id.ToString(CultureInfo.InvariantCulture));
        }
    }
}
