using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>How the ledger knows the building and breaking down of kits: transactions that belong to a kit and carry its number's key.</summary>
public static class KitWork
{
    public const string BelongsTo = "kit";
    public const string Build = "build-kit";
    public const string BreakDown = "break-down-kit";

    public static Posting Posting(string act, string requestId, string? note, string kit) =>
        new(act, requestId, note, BelongsTo, PartNumber.Canonical(kit));

    /// <summary>On the kit bench, between components and kits; only new pieces go there.</summary>
    public static Slot Bench(int? lotId) => Slot.Out(OutsideWorld.Kit, lotId, StockCondition.New);

    /// <summary>What came into, or left, the shop's places of a part by one transaction.</summary>
    public static async Task<Money> Worth(LedgerContext db, long transaction, int partId, CancellationToken cancellation)
    {
        var values = await db.StockLines.AsNoTracking().Where(line => line.TransactionId == transaction && line.PartId == partId && line.LocationId != null)
            .Select(line => line.Value).ToListAsync(cancellation);
        return Money.FromTenThousandths(Math.Abs(values.Sum(value => value.TenThousandths)));
    }
}
