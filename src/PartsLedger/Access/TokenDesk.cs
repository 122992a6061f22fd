using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Finds out whose a token is.</summary>
public sealed class TokenDesk(LedgerContext db, TimeProvider clock)
{
    /// <summary>How a token begins, so that people and searches for leaked secrets know it for one.</summary>
    public const string Prefix = "pl_";

    public static readonly TimeSpan LastUseEvery = TimeSpan.FromMinutes(1);

    /// <summary>One answer for a token that never was, has expired or was revoked: it tells a thief nothing.</summary>
    public static Refusal BadToken { get; } = new("BAD_TOKEN", "The token is not known here, has expired or was revoked.", "Ask an administrator for a new one.");

    public async Task<Outcome<Caller>> Whose(string token, CancellationToken cancellation)
    {
        if (!token.StartsWith(Prefix, StringComparison.Ordinal)) return BadToken;
        var (hash, now) = (Secret.HashOfCode(token), clock.GetUtcNow());
        var row = await db.AccessTokens.AsNoTracking().Include(one => one.Roles).SingleOrDefaultAsync(one => one.Hash == hash, cancellation);
        if (row is null || row.RevokedAt is not null || row.ExpiresAt <= now) return BadToken;
        if (row.LastUsedAt is not { } last || now - last >= LastUseEvery)
        {
            var (used, before) = (Instant.ToMicroseconds(now), Instant.ToMicroseconds(now - LastUseEvery));
            await db.Database.ExecuteSqlAsync(
                $"update access_tokens set last_used_at = {used} where id = {row.Id} and (last_used_at is null or last_used_at <= {before})", cancellation);
        }
        return new Caller($"token {row.Name}", [.. row.Roles.Select(role => role.Role)]) { CameBy = CameBy.Token };
    }
}
