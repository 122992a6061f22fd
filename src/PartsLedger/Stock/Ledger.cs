using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>What a ledger transaction belongs to and why it was made.</summary>
/// <param name="Act">What was done, in one word.</param>
/// <param name="BelongsTo"><c>job</c>, <c>kit</c>, <c>receipt</c>, <c>count</c> … or null.</param>
/// <param name="Reference">That thing's own number.</param>
public sealed record Posting(string Act, string RequestId, string? Why = null, string? BelongsTo = null, string? Reference = null, long? Reverses = null);

/// <summary>
/// The only writer of the ledger. <see cref="Begin"/> takes the turn on the parts concerned, so that what is read afterwards stays true
/// until the commit; <see cref="Post"/> appends the transaction, whose lines sum to zero for each part in quantity and in value, and
/// carries the balances along. A balance is changed by its difference under a guard, never by a value read before.
/// </summary>
public sealed class Ledger(LedgerContext db, ShopSettings settings)
{
    /// <summary>
    /// Waits for the turn on these parts, in the order of their ids so that two callers never wait for each other, and frees what
    /// reservations of them have run out.
    /// </summary>
    public async Task Begin(IEnumerable<int> partIds, DateTimeOffset now, CancellationToken cancellation)
    {
        foreach (var id in partIds.Distinct().Order())
        {
            var there = await db.Database.ExecuteSqlAsync($"update stock_parts set version = version + 1 where part_id = {id}", cancellation);
            if (there == 0)
            {
                // Two first acts on a part collide here on the key; the one that loses runs again and finds the row.
                await db.Database.ExecuteSqlAsync(
                    $"insert into stock_parts (part_id, on_hand, value, version, verified_value) values ({id}, 0, 0, 1, 0)", cancellation);
            }
            else await Reservations.FreeExpired(db, id, now, cancellation);
        }
    }

    /// <summary>Appends one transaction. <see cref="Begin"/> was called for every part that moves.</summary>
    /// <exception cref="InvariantViolation">A movement stays outside the shop or moves nothing.</exception>
    /// <exception cref="RaceLost">A place does not hold, unreserved, what is taken from it.</exception>
    /// <exception cref="TooLargeToKeep">A part's quantity or value would be larger than the ledger's numbers.</exception>
    public async Task<StockTransactionRow> Post(
        Posting posting, IReadOnlyList<Movement> movements, ActContext context, CancellationToken cancellation)
    {
        Invariant.Holds(movements.Count > 0);
        var transaction = new StockTransactionRow
        {
            Act = posting.Act, RequestId = posting.RequestId, At = context.Now, Who = context.Caller.Name, Why = posting.Why,
            BelongsTo = posting.BelongsTo, BelongsToRef = posting.Reference, ReversesId = posting.Reverses,
        };
        Dictionary<int, Holding> holdings;
        try
        {
            holdings = await Value(transaction, movements, posting.Reverses, cancellation);
        }
        catch (OverflowException)
        {
            throw new TooLargeToKeep();
        }

        foreach (var part in transaction.Lines.GroupBy(line => line.PartId))
        {
            Invariant.Holds(part.Sum(line => line.Quantity.Thousandths) == 0);
            Invariant.Holds(part.Sum(line => line.Value.TenThousandths) == 0);
        }
        db.StockTransactions.Add(transaction);
        db.StockUnfed.Add(new StockUnfedRow { Transaction = transaction });
        await db.SaveChangesAsync(cancellation);
        foreach (var (partId, holding) in holdings) await Keep(partId, holding, transaction, cancellation);
        await db.SaveChangesAsync(cancellation);

        var changes = transaction.Lines.Where(line => line.LocationId is not null)
            .GroupBy(line => (line.PartId, LocationId: line.LocationId!.Value, line.LotId, line.Condition))
            .Select(group => (group.Key, Change: group.Sum(line => line.Quantity.Thousandths)))
            .Where(change => change.Change != 0)
            .OrderBy(change => change.Key.PartId).ThenBy(change => change.Key.LocationId)
            .ThenBy(change => change.Key.LotId ?? 0).ThenBy(change => change.Key.Condition);
        foreach (var (key, change) in changes) await Carry(key.PartId, key.LocationId, key.LotId, key.Condition, change, cancellation);
        return transaction;
    }

    private async Task<Dictionary<int, Holding>> Value(
        StockTransactionRow transaction, IReadOnlyList<Movement> movements, long? reverses, CancellationToken cancellation)
    {
        var holdings = new Dictionary<int, Holding>();
        var ids = movements.Select(movement => movement.PartId).Distinct().ToList();
        Costing? costing = null;
        foreach (var some in ids.Chunk(900))
        {
            var rows = await db.StockParts.AsNoTracking().Where(row => some.Contains(row.PartId))
                .Select(row => new
                {
                    row.PartId, row.OnHand, row.Value, row.Part.Cost,
                    Costing = db.Settings.Where(setting => setting.Name == ShopSettings.CostingName).Select(setting => setting.Value).FirstOrDefault(),
                }).ToListAsync(cancellation);
            costing ??= rows.TrueForAll(row => row.OnHand == Quantity.Zero) ? await FirstCosting(cancellation) : ShopSettings.CostingOf(rows[0].Costing);
            var layers = costing == Costing.Average ? null : (await db.CostLayers.AsNoTracking()
                .Where(row => some.Contains(row.PartId) && row.Left != Quantity.Zero).OrderBy(row => row.Id).ToListAsync(cancellation))
                .ToLookup(row => row.PartId, row => new CostLayer(row.TransactionId, row.Left, row.ValueLeft));
            foreach (var row in rows) holdings.Add(row.PartId, new Holding(row.OnHand, row.Value, row.Cost, layers?[row.PartId]));
        }
        var begun = ids.TrueForAll(holdings.ContainsKey);
        Invariant.Holds(begun);

        foreach (var movement in movements)
        {
            Invariant.Holds(movement.Quantity > Quantity.Zero);
            Invariant.Holds(movement.From.IsInside || movement.To.IsInside);
            var holding = holdings[movement.PartId];
            if (movement.From.IsInside && movement.Quantity > holding.OnHand) throw new RaceLost();
            var worth = (movement.From.IsInside, movement.To.IsInside) switch
            {
                (false, _) when movement.Worth is { } known => holding.PutInWorth(movement.Quantity, known),
                (false, _) => holding.PutIn(movement.Quantity, movement.UnitCost),
                (_, false) => holding.TakeOut(movement.Quantity, reverses),
                _ => Holding.Share(holding.Value, movement.Quantity, holding.OnHand),
            };
            transaction.Lines.Add(Line(movement, movement.From, -movement.Quantity, -worth));
            transaction.Lines.Add(Line(movement, movement.To, movement.Quantity, worth));
        }
        return holdings;
    }

    /// <summary>The first posting of all settles how the shop values its stock: nobody may choose otherwise at the same moment.</summary>
    private async Task<Costing> FirstCosting(CancellationToken cancellation)
    {
        if (!await db.StockLines.AnyAsync(cancellation)) await settings.HoldCosting(db, cancellation);
        return await settings.Costing(db, cancellation);
    }

    private static StockLineRow Line(Movement movement, Slot slot, Quantity quantity, Money worth) => new()
    {
        PartId = movement.PartId, LocationId = slot.LocationId, Outside = slot.Outside, LotId = slot.LotId, Condition = slot.Condition,
        Quantity = quantity, Value = worth,
        UnitCost = Holding.Share(worth < Money.Zero ? -worth : worth, Quantity.FromWhole(1), movement.Quantity),
    };

    private async Task Keep(int partId, Holding holding, StockTransactionRow transaction, CancellationToken cancellation)
    {
        await db.Database.ExecuteSqlAsync($"""
            update stock_parts set on_hand = {holding.OnHand.Thousandths}, value = {holding.Value.TenThousandths} where part_id = {partId}
            """, cancellation);
        if (holding.Layers.Count == 0) return;
        var kept = await db.CostLayers.Where(row => row.PartId == partId && row.Left != Quantity.Zero).OrderBy(row => row.Id).ToListAsync(cancellation);
        for (var at = 0; at < holding.Layers.Count; at++)
        {
            var layer = holding.Layers[at];
            if (at < kept.Count) (kept[at].Left, kept[at].ValueLeft) = (layer.Left, layer.ValueLeft);
            else if (layer.Left > Quantity.Zero)
                db.CostLayers.Add(new CostLayerRow { PartId = partId, TransactionId = transaction.Id, Left = layer.Left, ValueLeft = layer.ValueLeft });
        }
    }

    private async Task Carry(
        int partId, int locationId, int? lotId, StockCondition condition, long change, CancellationToken cancellation)
    {
        var slot = lotId ?? 0;
        var carried = await db.Database.ExecuteSqlAsync($"""
            update stock_balances set on_hand = on_hand + {change}
            where part_id = {partId} and location_id = {locationId} and lot_slot = {slot} and condition = {Words.Of(condition)}
              and on_hand + {change} >= reserved
            """, cancellation);
        if (carried == 1) return;
        if (change < 0) throw new RaceLost();
        var balance = new StockBalanceRow
        {
            PartId = partId, LocationId = locationId, LotId = lotId, LotSlot = slot, Condition = condition,
            OnHand = Quantity.FromThousandths(change),
        };
        db.StockBalances.Add(balance);
        await db.SaveChangesAsync(cancellation);
        db.Entry(balance).State = EntityState.Detached;
    }
}
