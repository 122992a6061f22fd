using System.ComponentModel.DataAnnotations.Schema;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock.Soundness;

/// <summary>A transaction is taken back once at the most, by one that is no reversal's reversal and leaves nothing of it in any place.</summary>
internal sealed class ReversalsTakeBackOnce : ISoundnessRule
{
    public string Code => "REVERSALS_TAKE_BACK_ONCE";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        await foreach (var row in run.Ask<Row>(OfReversalSql, cancellation))
            run.Found(this, $"transaction {row.TransactionId}", $"It takes back transaction {row.OtherId}, which itself takes one back.");
        await foreach (var row in run.Ask<Row>(TwiceSql, cancellation))
            run.Found(this, $"transaction {row.TransactionId}", $"It takes back what transaction {row.OtherId} took back already.");
        await foreach (var row in run.Ask<LeftRow>(LeftSql, cancellation))
            run.Found(this, $"transaction {row.TransactionId}, part {await run.Part(row.PartId, cancellation)}",
                $"{Quantity.FromThousandths(row.Quantity)} of what it takes back are left in a place.");
    }

    private const string OfReversalSql = $"""
        select x.id as transaction_id, y.id as other_id
        from {SoundnessRun.Fresh} t join stock_transactions x on x.id = t.transaction_id join stock_transactions y on y.id = x.reverses_id
        where y.reverses_id is not null
        """;

    private const string TwiceSql = $"""
        select x.id as transaction_id, y.id as other_id
        from {SoundnessRun.Fresh} t join stock_transactions x on x.id = t.transaction_id
        join stock_transactions y on y.reverses_id = x.reverses_id and y.id < x.id
        """;

    private const string LeftSql = $"""
        select z.transaction_id, z.part_id, cast(sum(z.quantity) as bigint) as quantity
        from (select x.id as transaction_id, l.part_id, l.location_id, l.outside, l.lot_id, l.condition, l.quantity
              from {SoundnessRun.Fresh} t join stock_transactions x on x.id = t.transaction_id and x.reverses_id is not null
              join stock_lines l on l.transaction_id in (x.id, x.reverses_id)) z
        group by z.transaction_id, z.part_id, z.location_id, z.outside, z.lot_id, z.condition having sum(z.quantity) <> 0
        """;

    private sealed record Row([property: Column("transaction_id")] long TransactionId, [property: Column("other_id")] long OtherId);

    private sealed record LeftRow(
        [property: Column("transaction_id")] long TransactionId, [property: Column("part_id")] int PartId, [property: Column("quantity")] long Quantity);
}
