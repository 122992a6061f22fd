using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Tags that other things already carry, by the form in which they are found, with what carries them.</summary>
internal static class TakenTags
{
    /// <param name="cores">Whether cores' tags count as taken (not when cores themselves are read).</param>
    public static async Task<Dictionary<string, string>> Read(LedgerContext db, bool cores, CancellationToken cancellation)
    {
        var taken = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var code in await db.Pairs.AsNoTracking().Select(row => row.CodeKey).ToListAsync(cancellation)) taken.TryAdd(code, "a pair");
        foreach (var tag in await (cores ? db.Cores.AsNoTracking().Select(row => row.TagKey) : db.Units.AsNoTracking().Select(row => row.TagKey)).ToListAsync(cancellation))
            taken.TryAdd(tag, cores ? "a core" : "a unit");
        return taken;
    }
}
