using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>A token is good no longer, from its next request on.</summary>
public static class RevokeToken
{
    [Allowed(Role.Administrator)]
    [WrittenDown]
    public sealed record Command(string RequestId, string Name) : IAct<PersonActed>, IConcerns;

    public sealed class Handler(LedgerContext db) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var key = Code.KeyOf(act.Name);
            if (await db.AccessTokens.SingleOrDefaultAsync(row => row.NameKey == key, cancellation) is not { } token)
                return new Refusal("UNKNOWN_TOKEN", $"No token is called '{act.Name}'.", "Ask for the list of tokens.");
            if (token.RevokedAt is null) (token.RevokedAt, token.RevokedBy) = (context.Now, context.Caller.Name);
            return new PersonActed(token.Name, $"The token {token.Name} is good no longer.");
        }
    }
}
