using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Which programs have tokens, by name, and when each was used last.</summary>
public static class FindTokens
{
    [Allowed(Role.Administrator)]
    [WrittenDown]
    public sealed record Query(PageRequest Page) : IQuery<Page<Token>>;

    /// <param name="LastUsedAt">To the minute.</param>
    public sealed record Token(string Name, IReadOnlyList<Role> Roles, string MadeBy, DateTimeOffset ExpiresAt, DateTimeOffset? RevokedAt, DateTimeOffset? LastUsedAt);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<Token>>
    {
        public async Task<Outcome<Page<Token>>> Handle(Query query, CancellationToken cancellation)
        {
            var after = query.Page.After;
            var found = await db.AccessTokens.AsNoTracking().Include(row => row.Roles).Where(row => after == null || string.Compare(row.NameKey, after) > 0)
                .OrderBy(row => row.NameKey).Take(query.Page.First + 1).ToListAsync(cancellation);
            return Page.Of(query.Page, found, row => row.NameKey).Select(row => new Token(row.Name, [.. row.Roles.Select(role => role.Role).Order()],
                row.MadeBy, row.ExpiresAt, row.RevokedAt, row.LastUsedAt));
        }
    }
}
