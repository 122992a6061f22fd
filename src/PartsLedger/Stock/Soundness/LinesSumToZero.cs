using System.ComponentModel.DataAnnotations.Schema;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock.Soundness;

/// <summary>The lines of a transaction sum to zero for each part, in quantity and in value.</summary>
internal sealed class LinesSumToZero : ISoundnessRule
{
    public string Code => "LINES_SUM_TO_ZERO";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        await foreach (var row in run.Ask<Row>(Sql, cancellation))
            run.Found(this, $"transaction {row.TransactionId}, part {await run.Part(row.PartId, cancellation)}",
                $"Its lines sum to {Quantity.FromThousandths(row.Quantity)} pieces worth {Money.FromTenThousandths(row.Value)} instead of nothing.");
    }

    private const string Sql = $"""
        select l.transaction_id, l.part_id, cast(sum(l.quantity) as bigint) as quantity, cast(sum(l.value) as bigint) as value
        from {SoundnessRun.Fresh} t join stock_lines l on l.transaction_id = t.transaction_id
        group by l.transaction_id, l.part_id having sum(l.quantity) <> 0 or sum(l.value) <> 0
        """;

    private sealed record Row(
        [property: Column("transaction_id")] long TransactionId, [property: Column("part_id")] int PartId, [property: Column("quantity")] long Quantity,
        [property: Column("value")] long Value);
}
