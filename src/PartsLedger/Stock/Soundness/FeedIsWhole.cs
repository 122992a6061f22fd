using System.ComponentModel.DataAnnotations.Schema;
using Microsoft.EntityFrameworkCore;

namespace PartsLedger.Stock.Soundness;

/// <summary>Every committed transaction has one place in the feed or waits for it, and the places run from 1 without gaps.</summary>
internal sealed class FeedIsWhole : ISoundnessRule
{
    public string Code => "FEED_IS_WHOLE";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        if (run.UpTo.Position < run.Since.Position)
            run.Found(this, $"place {run.UpTo.Position}", $"The feed ends here; it was verified up to place {run.Since.Position}.");

        var since = run.Since;
        var gaps = await run.Db.Database.SqlQuery<PlaceRow>($"""
            select f.position, f.transaction_id from stock_feed f
            where f.position > {since.Position} and f.position <> 1 and not exists (select 1 from stock_feed g where g.position = f.position - 1)
            """).ToListAsync(cancellation);
        foreach (var row in gaps) run.Found(this, $"place {row.Position - 1}", $"The feed has a gap before transaction {row.TransactionId}.");

        var missing = await run.Db.Database.SqlQuery<long>($"""
            select x.id as "Value" from stock_transactions x
            where x.id > {since.Transaction} and not exists (select 1 from stock_feed f where f.transaction_id = x.id)
                and not exists (select 1 from stock_unfed u where u.transaction_id = x.id)
            """).ToListAsync(cancellation);
        foreach (var id in missing) run.Found(this, $"transaction {id}", "It has no place in the feed and does not wait for one.");

        var twice = await run.Db.Database.SqlQuery<PlaceRow>($"""
            select f.position, f.transaction_id from stock_unfed u join stock_feed f on f.transaction_id = u.transaction_id
            """).ToListAsync(cancellation);
        foreach (var row in twice) run.Found(this, $"transaction {row.TransactionId}", $"It has place {row.Position} in the feed and waits for another.");
    }

    private sealed record PlaceRow([property: Column("position")] long Position, [property: Column("transaction_id")] long TransactionId);
}
