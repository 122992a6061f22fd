using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// The only writer of the ledger: appends a transaction whose lines sum to zero for each part, and carries the balances along in the
/// same database transaction. A balance is changed by its difference under a guard, never by a value read before, so two writers
/// cannot overwrite each other; a guard that fails means that somebody else came first.
/// </summary>
public sealed class LedgerWriter(LedgerContext db)
{
    /// <exception cref="InvariantViolation">The lines of some part do not sum to zero.</exception>
    /// <exception cref="RaceLost">A place no longer holds what is taken from it, or what is not reserved of it.</exception>
    public async Task Append(StockTransactionRow transaction, CancellationToken cancellation)
    {
        var everyPartSumsToZero = transaction.Lines.GroupBy(line => line.PartId).All(part => part.Sum(line => line.Quantity.Thousandths) == 0);
        Invariant.Holds(everyPartSumsToZero);
        Invariant.Holds(transaction.Lines.Count >= 2);

        db.StockTransactions.Add(transaction);
        await db.SaveChangesAsync(cancellation);

        // Always in the same order, so that two writers that touch the same places wait for each other instead of deadlocking.
        var changes = transaction.Lines.Where(line => line.LocationId is not null)
            .GroupBy(line => (line.PartId, LocationId: line.LocationId!.Value, line.LotId, line.Condition))
            .Select(group => (group.Key, Change: group.Sum(line => line.Quantity.Thousandths)))
            .Where(change => change.Change != 0)
            .OrderBy(change => change.Key.PartId).ThenBy(change => change.Key.LocationId)
            .ThenBy(change => change.Key.LotId ?? 0).ThenBy(change => change.Key.Condition);
        foreach (var (key, change) in changes) await Carry(key, change, cancellation);
    }

    private async Task Carry(
        (int PartId, int LocationId, int? LotId, Domain.Stock.StockCondition Condition) key, long change, CancellationToken cancellation)
    {
        var slot = key.LotId ?? 0;

        // Balance columns are integers in thousandths; the guard and the sum are evaluated by the database on the row it locks.
        var carried = await db.Database.ExecuteSqlAsync($"""
            update stock_balances set on_hand = on_hand + {change}
            where part_id = {key.PartId} and location_id = {key.LocationId} and lot_slot = {slot} and condition = {Domain.Catalog.Words.Of(key.Condition)}
              and on_hand + {change} >= reserved
            """, cancellation);
        if (carried == 1) return;
        if (change < 0) throw new RaceLost();

        var balance = new StockBalanceRow
        {
            PartId = key.PartId, LocationId = key.LocationId, LotId = key.LotId, LotSlot = slot, Condition = key.Condition,
            OnHand = Domain.Measures.Quantity.FromThousandths(change),
        };
        db.StockBalances.Add(balance);
        await db.SaveChangesAsync(cancellation);
        db.Entry(balance).State = EntityState.Detached;
    }
}
