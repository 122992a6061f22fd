using Microsoft.EntityFrameworkCore;
using PartsLedger.Access;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock.Soundness;

namespace PartsLedger.Stock;

/// <summary>
/// Derives every balance from the ledger again and checks every rule that must always hold. What was found sound once is not gone through
/// again, unless a full verification is asked for: the ledger is append only, so what it said up to the verified point it still says.
/// </summary>
public static class VerifyLedger
{
    /// <param name="Full">From the first transaction of all, whatever was verified before.</param>
    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(bool Full = false) : IQuery<Answer>;

    /// <param name="Full">Everything was gone through: asked for, or nothing had been verified yet.</param>
    /// <param name="After">The place in the feed that was verified before.</param>
    /// <param name="UpTo">The place in the feed that this verification reached; verified from now on if sound.</param>
    public sealed record Answer(bool Sound, bool Full, long After, long UpTo, SoundnessCounts Counted, IReadOnlyList<Breach> Breaches);

    public sealed class Handler(LedgerContext db, IDatabase database, FeedPublisher publisher, AuditSealer sealer, ShopSettings settings) : IQueryHandler<Query, Answer>
    {
        // Only a database that reads with locks can lose here, to writers.
        private const int MaxRuns = 8;

        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            db.Database.SetCommandTimeout(TimeSpan.FromHours(1));
            while (await publisher.Publish(cancellation) >= FeedPublisher.Batch) cancellation.ThrowIfCancellationRequested();
            await sealer.SealAll(cancellation);

            var was = VerifiedPoint.Beginning;
            var run = await Again(async () =>
            {
                await using var snapshot = await database.BeginSnapshot(db, cancellation);
                was = await VerifiedPoint.Read(db, cancellation);
                var made = await Begin(query.Full ? VerifiedPoint.Beginning : was, cancellation);
                foreach (var rule in SoundnessRules.All) await rule.Check(made, cancellation);
                await snapshot.CommitAsync(cancellation);
                return made;
            });
            if (run.IsSound) await Again(() => Keep(run, was, cancellation));
            return new Answer(run.IsSound, run.IsFull, run.Since.Position, run.UpTo.Position, run.Counted, run.Breaches);
        }

        private async Task<SoundnessRun> Begin(VerifiedPoint since, CancellationToken cancellation)
        {
            var audit = await db.AuditSeals.OrderByDescending(row => row.Position).Select(row => new { row.Position, row.Hash }).FirstOrDefaultAsync(cancellation);
            var upTo = new VerifiedPoint(await db.StockFeed.MaxAsync(row => (long?)row.Position, cancellation) ?? 0,
                await db.StockTransactions.MaxAsync(row => (long?)row.Id, cancellation) ?? 0, audit?.Position ?? 0, audit?.Hash ?? "");
            var unfed = await db.StockUnfed.GroupBy(_ => 1)
                .Select(all => new { First = all.Min(row => row.TransactionId), Last = all.Max(row => row.TransactionId) }).SingleOrDefaultAsync(cancellation);
            return new SoundnessRun(db, since, upTo, unfed is null ? null : (unfed.First, unfed.Last), await settings.Costing(db, cancellation));
        }

        /// <summary>Moves the verified point and the figures that belong to it. Takes the turn on the parts first, as every act does.</summary>
        private async Task<bool> Keep(SoundnessRun run, VerifiedPoint was, CancellationToken cancellation)
        {
            if (run.UpTo == was && !run.IsFull) return true;
            await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
            if (!await was.MoveTo(db, run.UpTo, cancellation)) return false;
            if (run.IsFull)
            {
                await db.Database.ExecuteSqlAsync($"update stock_parts set verified_value = 0 where verified_value <> 0", cancellation);
                await db.Database.ExecuteSqlAsync($"update stock_balances set verified_on_hand = 0 where verified_on_hand <> 0", cancellation);
            }
            var changes = (await run.Changes(cancellation)).Where(change => change.Value is not { Fed: 0, FedValue: 0 }).ToList();
            foreach (var part in changes.GroupBy(change => change.Key.PartId).OrderBy(part => part.Key))
            {
                var value = part.Sum(change => change.Value.FedValue);
                await db.Database.ExecuteSqlAsync($"update stock_parts set verified_value = verified_value + {value} where part_id = {part.Key}", cancellation);
            }
            foreach (var (pile, change) in changes.Where(change => change.Value.Fed != 0)
                .OrderBy(change => change.Key.PartId).ThenBy(change => change.Key.LocationId).ThenBy(change => change.Key.LotSlot))
                await db.Database.ExecuteSqlAsync($"""
                    update stock_balances set verified_on_hand = verified_on_hand + {change.Fed}
                    where part_id = {pile.PartId} and location_id = {pile.LocationId} and lot_slot = {pile.LotSlot} and condition = {pile.Condition}
                    """, cancellation);
            await transaction.CommitAsync(cancellation);
            return true;
        }

        private async Task<T> Again<T>(Func<Task<T>> work)
        {
            for (var run = 1; ; run++)
            {
                try
                {
                    return await work();
                }
                catch (Exception lost) when (run < MaxRuns && (database.IsLostRace(lost) || database.IsUniqueViolation(lost)))
                {
                    db.ChangeTracker.Clear();
                }
            }
        }
    }
}
