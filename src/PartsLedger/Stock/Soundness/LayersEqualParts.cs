using System.ComponentModel.DataAnnotations.Schema;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock.Soundness;

/// <summary>Where stock is valued first in, first out: what is left of a part's receipts is what the shop owns of it.</summary>
internal sealed class LayersEqualParts : ISoundnessRule
{
    public string Code => "LAYERS_EQUAL_PARTS";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        if (run.Costing != Costing.Fifo) return;
        var wrong = await run.Db.Database.SqlQuery<Row>($"""
            select p.part_id, p.on_hand, p.value, cast(coalesce(c.quantity, 0) as bigint) as quantity, cast(coalesce(c.worth, 0) as bigint) as worth
            from stock_parts p
            left join (select part_id, sum(quantity_left) as quantity, sum(value_left) as worth from cost_layers group by part_id) c on c.part_id = p.part_id
            where p.on_hand <> coalesce(c.quantity, 0) or p.value <> coalesce(c.worth, 0)
            """).ToListAsync(cancellation);
        foreach (var row in wrong)
            run.Found(this, $"part {await run.Part(row.PartId, cancellation)}",
                $"{Quantity.FromThousandths(row.OnHand)} worth {Money.FromTenThousandths(row.Value)} are owned, "
                + $"{Quantity.FromThousandths(row.Quantity)} worth {Money.FromTenThousandths(row.Worth)} are left of its receipts.");
    }

    private sealed record Row(
        [property: Column("part_id")] int PartId, [property: Column("on_hand")] long OnHand, [property: Column("value")] long Value,
        [property: Column("quantity")] long Quantity, [property: Column("worth")] long Worth);
}
