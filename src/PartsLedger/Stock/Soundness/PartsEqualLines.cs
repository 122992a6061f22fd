using System.ComponentModel.DataAnnotations.Schema;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock.Soundness;

/// <summary>What the shop owns of a part, and what that is worth, is what the lines inside the shop sum to.</summary>
internal sealed class PartsEqualLines : ISoundnessRule
{
    public string Code => "PARTS_EQUAL_LINES";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        var changes = (await run.Changes(cancellation)).GroupBy(change => change.Key.PartId)
            .ToDictionary(part => part.Key, part => (Quantity: part.Sum(one => one.Value.Quantity), Value: part.Sum(one => one.Value.Value)));
        var wrong = new List<(int PartId, string What)>();
        var parts = run.Db.Database.SqlQuery<Row>($"""
            select p.part_id, p.on_hand, p.value, p.verified_value, cast(coalesce(b.verified, 0) as bigint) as verified from stock_parts p
            left join (select part_id, sum(verified_on_hand) as verified from stock_balances group by part_id) b on b.part_id = p.part_id
            """).AsAsyncEnumerable();
        await foreach (var row in parts.WithCancellation(cancellation))
        {
            changes.Remove(row.PartId, out var change);
            var quantity = (run.IsFull ? 0 : row.Verified) + change.Quantity;
            var value = (run.IsFull ? 0 : row.VerifiedValue) + change.Value;
            if (quantity != row.OnHand || value != row.Value)
                wrong.Add((row.PartId, $"It says {Quantity.FromThousandths(row.OnHand)} worth {Money.FromTenThousandths(row.Value)}, "
                    + $"the ledger's lines say {Quantity.FromThousandths(quantity)} worth {Money.FromTenThousandths(value)}."));
        }
        wrong.AddRange(changes.Where(change => change.Value != (0, 0)).Select(change => (change.Key,
            $"It says nothing, the ledger's lines say {Quantity.FromThousandths(change.Value.Quantity)} worth {Money.FromTenThousandths(change.Value.Value)}.")));
        foreach (var (part, what) in wrong.OrderBy(one => one.PartId)) run.Found(this, $"part {await run.Part(part, cancellation)}", what);
    }

    private sealed record Row(
        [property: Column("part_id")] int PartId, [property: Column("on_hand")] long OnHand, [property: Column("value")] long Value,
        [property: Column("verified_value")] long VerifiedValue, [property: Column("verified")] long Verified);
}
