using System.ComponentModel.DataAnnotations.Schema;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock.Soundness;

/// <summary>What a transaction puts on the kit bench it takes off again at the same value, and a lot of kits is what its build made.</summary>
internal sealed class KitsCostTheirParts : ISoundnessRule
{
    public string Code => "KITS_COST_THEIR_PARTS";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        await foreach (var row in run.Ask<Row>(WorthSql, cancellation))
            run.Found(this, $"transaction {row.TransactionId}", $"{Money.FromTenThousandths(row.Figure)} of value were left on the kit bench.");
        await foreach (var row in run.Ask<Row>(BuiltSql, cancellation))
            run.Found(this, $"transaction {row.TransactionId}", $"It built {Quantity.FromThousandths(row.Figure)} kits more than its build says.");
    }

    private const string WorthSql = $"""
        select l.transaction_id, cast(sum(l.value) as bigint) as figure
        from {SoundnessRun.Fresh} t join stock_lines l on l.transaction_id = t.transaction_id
        where l.outside = 'kit' group by l.transaction_id having sum(l.value) <> 0
        """;

    private const string BuiltSql = $"""
        select b.transaction_id, cast(coalesce(l.quantity, 0) - b.quantity as bigint) as figure
        from {SoundnessRun.Fresh} t join kit_builds b on b.transaction_id = t.transaction_id
        left join (select transaction_id, lot_id, sum(quantity) as quantity from stock_lines where location_id is not null
            group by transaction_id, lot_id) l on l.transaction_id = b.transaction_id and l.lot_id = b.lot_id
        where coalesce(l.quantity, 0) <> b.quantity
        """;

    private sealed record Row([property: Column("transaction_id")] long TransactionId, [property: Column("figure")] long Figure);
}
