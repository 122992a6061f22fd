using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;

namespace PartsLedger.Jobs;

/// <summary>What stands at a variant's positions.</summary>
internal static class PositionNames
{
    public static async Task<IReadOnlyDictionary<int, string>> Of(LedgerContext db, int? variantId, CancellationToken cancellation) =>
        await db.Positions.AsNoTracking().Where(row => row.VariantId == variantId).ToDictionaryAsync(row => row.Position, row => row.Name,
            cancellation);
}
