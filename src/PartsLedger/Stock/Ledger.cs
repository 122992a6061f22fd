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

/// <summary>A transaction that was appended.</summary>
public sealed record Posted(long Id, string Act, DateTimeOffset At);

/// <summary>
/// The only writer of the ledger. <see cref="Begin"/> takes the turn on the parts concerned, so that what is read afterwards stays true
/// until the commit; <see cref="Post"/> appends the transaction, whose lines sum to zero for each part in quantity and in value, and
/// carries the balances along. A balance is changed by its difference under a guard, never by a value read before.
/// </summary>
public sealed class Ledger(LedgerContext db, IDatabase database, ShopSettings settings, StockReader reader)
{
    private readonly Dictionary<int, PartInHand> _inHand = [];

    /// <summary>
    /// Waits for the turn on these parts, in the order of their ids so that two callers never wait for each other, and frees what
    /// reservations of them have run out.
    /// </summary>
    /// <returns>By part id what the shop has of each, true until the commit.</returns>
    public async Task<IReadOnlyDictionary<int, PartInHand>> Begin(
        IEnumerable<int> partIds, DateTimeOffset now, CancellationToken cancellation)
    {
        foreach (var id in partIds.Distinct().Order())
        {
            var there = await db.Database.ExecuteSqlAsync($"update stock_parts set version = version + 1 where part_id = {id}", cancellation);

            // Two first acts on a part collide here on the key; the one that loses runs again and finds the row.
            if (there == 0)
                await db.Database.ExecuteSqlAsync(
                    $"insert into stock_parts (part_id, on_hand, value, version, verified_value) values ({id}, 0, 0, 1, 0)", cancellation);
            _inHand[id] = await Reservations.FreeExpired(db, await reader.InHand(db, id, cancellation), now, cancellation);
        }
        return _inHand;
    }

    /// <summary>Appends one transaction. <see cref="Begin"/> was called for every part that moves.</summary>
    /// <exception cref="InvariantViolation">A movement stays outside the shop or moves nothing.</exception>
    /// <exception cref="RaceLost">A place does not hold, unreserved, what is taken from it.</exception>
    /// <exception cref="TooLargeToKeep">A part's quantity or value would be larger than the ledger's numbers.</exception>
    public async Task<Posted> Post(
        Posting posting, IReadOnlyList<Movement> movements, ActContext context, CancellationToken cancellation)
    {
        Invariant.Holds(movements.Count > 0);
        var posted = new Posted(await SqlBatch.Insert(db, database, $"""
            insert into stock_transactions (act, request_id, at, who, why, belongs_to, belongs_to_ref, reverses_id)
            values ({posting.Act}, {posting.RequestId}, {Instant.ToMicroseconds(context.Now)}, {context.Caller.Name}, {posting.Why},
                {posting.BelongsTo}, {posting.Reference}, {posting.Reverses})
            """, cancellation), posting.Act, context.Now);

        var holdings = await Holdings(movements, cancellation);
        var lines = Lines(movements, holdings, posting.Reverses);
        var changes = Changes(lines);
        await Write(posted.Id, lines, holdings, changes.Where(change => change.By < 0), cancellation);
        foreach (var (partId, slot, by) in changes.Where(change => change.By > 0)) await PutInto(partId, slot, by, cancellation);
        foreach (var (partId, holding) in holdings)
        {
            await KeepLayers(partId, holding, posted.Id, cancellation);
            _inHand[partId] = _inHand[partId] with { OnHand = holding.OnHand, Value = holding.Value };
        }
        return posted;
    }

    private async Task<Dictionary<int, Holding>> Holdings(IReadOnlyList<Movement> movements, CancellationToken cancellation)
    {
        var ids = movements.Select(movement => movement.PartId).Distinct().ToList();
        var begun = ids.TrueForAll(_inHand.ContainsKey);
        Invariant.Holds(begun);
        var parts = ids.ConvertAll(id => _inHand[id]);
        var costing = parts.TrueForAll(part => part.OnHand == Quantity.Zero) ? await FirstCosting(cancellation)
            : ShopSettings.CostingOf(parts[0].Costing);
        var holdings = new Dictionary<int, Holding>();
        foreach (var some in parts.Chunk(900))
        {
            var someIds = Array.ConvertAll(some, part => part.PartId);
            var layers = costing == Costing.Average ? null : (await db.CostLayers.AsNoTracking()
                .Where(row => someIds.Contains(row.PartId) && row.Left != Quantity.Zero).OrderBy(row => row.Id).ToListAsync(cancellation))
                .ToLookup(row => row.PartId, row => new CostLayer(row.TransactionId, row.Left, row.ValueLeft));
            foreach (var part in some) holdings.Add(part.PartId, new Holding(part.OnHand, part.Value, part.ListCost, layers?[part.PartId]));
        }
        return holdings;
    }

    /// <summary>The first posting of all settles how the shop values its stock: nobody may choose otherwise at the same moment.</summary>
    private async Task<Costing> FirstCosting(CancellationToken cancellation)
    {
        if (!await db.StockLines.AnyAsync(cancellation)) await settings.HoldCosting(db, cancellation);
        return await settings.Costing(db, cancellation);
    }

    /// <summary>Two for each movement, where the pieces leave and where they come, valued by the holdings, which they change.</summary>
    private static List<Line> Lines(IReadOnlyList<Movement> movements, Dictionary<int, Holding> holdings, long? reverses)
    {
        var lines = new List<Line>(2 * movements.Count);
        var bench = new KitBench(movements);
        try
        {
            foreach (var movement in movements)
            {
                var worth = Value(movement, holdings[movement.PartId], reverses, bench);
                if (movement.To.Outside == OutsideWorld.Kit) bench.Put(worth);
                lines.Add(Line.Of(movement, movement.From, -movement.Quantity, -worth));
                lines.Add(Line.Of(movement, movement.To, movement.Quantity, worth));
            }
        }
        catch (OverflowException)
        {
            throw new TooLargeToKeep();
        }
        Invariant.Holds(bench.IsEmpty);
        foreach (var part in lines.GroupBy(line => line.PartId))
        {
            Invariant.Holds(part.Sum(line => line.Quantity.Thousandths) == 0);
            Invariant.Holds(part.Sum(line => line.Value.TenThousandths) == 0);
        }
        return lines;
    }

    private static Money Value(Movement movement, Holding holding, long? reverses, KitBench bench)
    {
        Invariant.Holds(movement.Quantity > Quantity.Zero);
        Invariant.Holds(movement.From.IsInside || movement.To.IsInside);
        if (movement.From.IsInside && movement.Quantity > holding.OnHand) throw new RaceLost();
        return (movement.From.IsInside, movement.To.IsInside) switch
        {
            (false, _) when movement.From.Outside == OutsideWorld.Kit => holding.PutInWorth(movement.Quantity, bench.Take(movement)),
            (false, _) when movement.Worth is { } known => holding.PutInWorth(movement.Quantity, known),
            (false, _) => holding.PutIn(movement.Quantity, movement.UnitCost),
            (_, false) => holding.TakeOut(movement.Quantity, reverses),
            _ => Holding.Share(holding.Value, movement.Quantity, holding.OnHand),
        };
    }

    /// <summary>By how many thousandths each balance changes.</summary>
    private static List<(int PartId, Slot Slot, long By)> Changes(IEnumerable<Line> lines) =>
        [.. lines.Where(line => line.Slot.IsInside).GroupBy(line => (line.PartId, line.Slot))
            .Select(group => (group.Key.PartId, group.Key.Slot, By: group.Sum(line => line.Quantity.Thousandths)))];

    /// <summary>The lines, the place in the feed's queue, the parts' totals and what leaves the balances, all in one go.</summary>
    private async Task Write(
        long transactionId, List<Line> lines, Dictionary<int, Holding> holdings, IEnumerable<(int PartId, Slot Slot, long By)> taken,
        CancellationToken cancellation)
    {
        var batch = new SqlBatch();
        foreach (var some in lines.Chunk(100))
            batch.AddRows("insert into stock_lines (transaction_id, part_id, location_id, outside, lot_id, condition, quantity, unit_cost, value) values",
                some, line => $"""
                ({transactionId}, {line.PartId}, {line.Slot.LocationId}, {(line.Slot.Outside is { } world ? Words.Of(world) : null)}, {line.Slot.LotId},
                    {Words.Of(line.Slot.Condition)}, {line.Quantity.Thousandths}, {line.UnitCost.TenThousandths}, {line.Value.TenThousandths})
                """);
        batch.Add($"insert into stock_unfed (transaction_id) values ({transactionId})");
        foreach (var (partId, holding) in holdings)
            batch.Add($"""
                update stock_parts set on_hand = {holding.OnHand.Thousandths}, value = {holding.Value.TenThousandths}
                where part_id = {partId}
                """);
        foreach (var (partId, slot, by) in taken) batch.Add(Carry(partId, slot, by));
        if (await batch.Execute(db, cancellation) < batch.Rows) throw new RaceLost();
    }

    private async Task PutInto(int partId, Slot slot, long by, CancellationToken cancellation)
    {
        if (await db.Database.ExecuteSqlAsync(Carry(partId, slot, by), cancellation) == 1) return;
        var balance = new StockBalanceRow
        {
            PartId = partId, LocationId = slot.LocationId!.Value, LotId = slot.LotId, LotSlot = slot.LotId ?? 0, Condition = slot.Condition,
            OnHand = Quantity.FromThousandths(by),
        };
        db.StockBalances.Add(balance);
        await db.SaveChangesAsync(cancellation);
        db.Entry(balance).State = EntityState.Detached;
    }

    /// <summary>Changes a balance by a difference; no row when there is none, or it does not hold, unreserved, what is taken.</summary>
    private static FormattableString Carry(int partId, Slot slot, long by) => $"""
        update stock_balances set on_hand = on_hand + {by}
        where part_id = {partId} and location_id = {slot.LocationId!.Value} and lot_slot = {slot.LotId ?? 0}
          and condition = {Words.Of(slot.Condition)} and on_hand + {by} >= reserved
        """;

    private async Task KeepLayers(int partId, Holding holding, long transactionId, CancellationToken cancellation)
    {
        if (holding.Layers.Count == 0) return;
        var kept = await db.CostLayers.Where(row => row.PartId == partId && row.Left != Quantity.Zero).OrderBy(row => row.Id).ToListAsync(cancellation);
        for (var at = 0; at < holding.Layers.Count; at++)
        {
            var layer = holding.Layers[at];
            if (at < kept.Count) (kept[at].Left, kept[at].ValueLeft) = (layer.Left, layer.ValueLeft);
            else if (layer.Left > Quantity.Zero)
                db.CostLayers.Add(new CostLayerRow { PartId = partId, TransactionId = transactionId, Left = layer.Left, ValueLeft = layer.ValueLeft });
        }
        await db.SaveChangesAsync(cancellation);
    }

    private readonly record struct Line(int PartId, Slot Slot, Quantity Quantity, Money UnitCost, Money Value)
    {
        public static Line Of(Movement movement, Slot slot, Quantity quantity, Money worth) => new(movement.PartId, slot, quantity,
            Holding.Share(worth < Money.Zero ? -worth : worth, Quantity.FromWhole(1), movement.Quantity), worth);
    }
}
