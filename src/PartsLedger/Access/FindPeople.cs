using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Who works with the program, by name.</summary>
public static class FindPeople
{
    /// <param name="Name">Only the person of this name; everybody when null.</param>
    [Allowed(Role.Supervisor, Role.Administrator)]
    [WrittenDown]
    public sealed record Query(PageRequest Page, string? Name = null) : IQuery<Page<Person>>;

    public sealed record Person(string Name, IReadOnlyList<Role> Roles, bool Active, bool HasPassword, bool HasSecondFactor, bool HasBadge, string? Subject);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<Person>>
    {
        public async Task<Outcome<Page<Person>>> Handle(Query query, CancellationToken cancellation)
        {
            var (after, key) = (query.Page.After, query.Name is { } name ? Code.KeyOf(name) : null);
            var found = await db.People.AsNoTracking().Include(row => row.Roles)
                .Where(row => (after == null || string.Compare(row.NameKey, after) > 0) && (key == null || row.NameKey == key))
                .OrderBy(row => row.NameKey).Take(query.Page.First + 1).ToListAsync(cancellation);
            return Page.Of(query.Page, found, row => row.NameKey).Select(row => new Person(row.Name, [.. row.Roles.Select(role => role.Role).Order()],
                row.IsActive, row.PasswordHash is not null, row.SecondFactorSince is not null, row.BadgeHash is not null, row.Subject));
        }
    }
}
