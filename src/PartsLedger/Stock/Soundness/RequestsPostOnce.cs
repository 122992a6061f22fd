using System.ComponentModel.DataAnnotations.Schema;

namespace PartsLedger.Stock.Soundness;

/// <summary>Every transaction answers to a request that is remembered, and no request has become two transactions.</summary>
internal sealed class RequestsPostOnce : ISoundnessRule
{
    public string Code => "REQUESTS_POST_ONCE";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        var (transactions, unknown) = (0L, 0L);
        await foreach (var row in run.Ask<CountRow>(CountSql, cancellation)) transactions += row.Transactions;
        await foreach (var row in run.Ask<Row>(UnknownSql, cancellation))
        {
            unknown++;
            run.Found(this, $"transaction {row.TransactionId}", $"Its request {row.RequestId} is not remembered.");
        }
        await foreach (var row in run.Ask<TwiceRow>(TwiceSql, cancellation))
            run.Found(this, $"request {row.RequestId}", $"It has become transaction {row.OtherId} and transaction {row.TransactionId}.");
        run.Counted = run.Counted with { Transactions = transactions, Requests = transactions - unknown };
    }

    private const string CountSql = $"select cast(count(*) as bigint) as transactions from {SoundnessRun.Fresh} t";

    private const string UnknownSql = $"""
        select x.id as transaction_id, x.request_id
        from {SoundnessRun.Fresh} t join stock_transactions x on x.id = t.transaction_id left join requests r on r.request_id = x.request_id
        where r.request_id is null
        """;

    private const string TwiceSql = $"""
        select x.id as transaction_id, x.request_id, y.id as other_id
        from {SoundnessRun.Fresh} t join stock_transactions x on x.id = t.transaction_id
        join stock_transactions y on y.request_id = x.request_id and y.id < x.id
        """;

    private sealed record CountRow([property: Column("transactions")] long Transactions);

    private sealed record Row([property: Column("transaction_id")] long TransactionId, [property: Column("request_id")] string RequestId);

    private sealed record TwiceRow(
        [property: Column("transaction_id")] long TransactionId, [property: Column("request_id")] string RequestId, [property: Column("other_id")] long OtherId);
}
