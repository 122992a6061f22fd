using System.ComponentModel.DataAnnotations.Schema;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock.Soundness;

/// <summary>No place and no part has less than nothing, in quantity or in value, and what is worth something is there.</summary>
internal sealed class NothingIsNegative : ISoundnessRule
{
    public string Code => "NOTHING_IS_NEGATIVE";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        var balances = await run.Db.Database.SqlQuery<BalanceRow>($"""
            select b.part_id, b.location_id, b.lot_slot, b.condition, b.on_hand, b.reserved from stock_balances b where b.on_hand < 0 or b.reserved < 0
            """).ToListAsync(cancellation);
        foreach (var row in balances)
            run.Found(this, await run.Name(new Pile(row.PartId, row.LocationId, row.LotSlot, row.Condition), cancellation),
                $"{Quantity.FromThousandths(row.OnHand)} are on hand, {Quantity.FromThousandths(row.Reserved)} of them reserved.");

        var parts = await run.Db.Database.SqlQuery<WorthRow>($"""
            select p.part_id, p.on_hand as quantity, p.value from stock_parts p where p.on_hand < 0 or p.value < 0 or (p.on_hand = 0 and p.value <> 0)
            """).ToListAsync(cancellation);
        foreach (var row in parts)
            run.Found(this, $"part {await run.Part(row.PartId, cancellation)}", $"{Quantity.FromThousandths(row.Quantity)} worth {Money.FromTenThousandths(row.Value)} are owned.");

        var layers = await run.Db.Database.SqlQuery<WorthRow>($"""
            select c.part_id, c.quantity_left as quantity, c.value_left as value from cost_layers c
            where c.quantity_left < 0 or c.value_left < 0 or (c.quantity_left = 0 and c.value_left <> 0)
            """).ToListAsync(cancellation);
        foreach (var row in layers)
            run.Found(this, $"part {await run.Part(row.PartId, cancellation)}",
                $"{Quantity.FromThousandths(row.Quantity)} worth {Money.FromTenThousandths(row.Value)} are left of a receipt.");
    }

    private sealed record BalanceRow(
        [property: Column("part_id")] int PartId, [property: Column("location_id")] int LocationId, [property: Column("lot_slot")] int LotSlot,
        [property: Column("condition")] string Condition, [property: Column("on_hand")] long OnHand, [property: Column("reserved")] long Reserved);

    private sealed record WorthRow(
        [property: Column("part_id")] int PartId, [property: Column("quantity")] long Quantity, [property: Column("value")] long Value);
}
