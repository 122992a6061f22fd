using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// Gives every committed transaction its place in the feed. The number of a transaction says nothing about when it was committed: one that
/// commits late has a lower number than others already read. So places are given after the commit, one after the other without gaps; two
/// publishers at once collide on the key of the place, and the one that loses runs again.
/// </summary>
public sealed class FeedPublisher(LedgerContext db, IDatabase database)
{
    /// <summary>About so many transactions get their place in one go.</summary>
    public const int Batch = 2000;

    /// <summary>Gives the next waiting transactions their places.</summary>
    /// <returns>How many; below <see cref="Batch"/> when none is left waiting.</returns>
    public async Task<int> Publish(CancellationToken cancellation)
    {
        for (var run = 1; ; run++)
        {
            try
            {
                return await Once(cancellation);
            }
            catch (Exception lost) when (run < Dispatcher.MaxRuns && (database.IsUniqueViolation(lost) || database.IsLostRace(lost)))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(RandomNumberGenerator.GetInt32(1, Math.Min(4 << Math.Min(run, 5), 100))), cancellation);
            }
        }
    }

    private async Task<int> Once(CancellationToken cancellation)
    {
        // Asked outside the transaction: a follower that finds nothing new keeps nobody from writing.
        if (!await db.StockUnfed.AnyAsync(cancellation)) return 0;

        await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
        var last = await db.StockFeed.MaxAsync(row => (long?)row.Position, cancellation) ?? 0;
        var upTo = await db.StockUnfed.OrderBy(row => row.TransactionId).Skip(Batch - 1).Select(row => (long?)row.TransactionId)
            .FirstOrDefaultAsync(cancellation) ?? long.MaxValue;

        // What has its place already keeps it: verify names such a transaction, no follower reads it twice.
        var fed = await db.Database.ExecuteSqlAsync($"""
            insert into stock_feed (position, transaction_id)
            select {last} + row_number() over (order by u.transaction_id), u.transaction_id from stock_unfed u
            where u.transaction_id <= {upTo} and not exists (select 1 from stock_feed f where f.transaction_id = u.transaction_id)
            """, cancellation);
        await db.Database.ExecuteSqlAsync($"""
            delete from stock_unfed where transaction_id in (select f.transaction_id from stock_feed f where f.position > {last})
            """, cancellation);
        await transaction.CommitAsync(cancellation);
        return fed;
    }
}
