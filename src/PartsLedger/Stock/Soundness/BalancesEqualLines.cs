using System.ComponentModel.DataAnnotations.Schema;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock.Soundness;

/// <summary>What a balance says is on hand is what the ledger's lines brought there less what they took away.</summary>
internal sealed class BalancesEqualLines : ISoundnessRule
{
    public string Code => "BALANCES_EQUAL_LINES";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        var changes = await run.Changes(cancellation);
        var wrong = new List<(Pile Pile, long OnHand, long ByLines)>();
        var seen = new HashSet<Pile>();

        // A balance that is as it was when last verified needs no look, unless lines have changed its pile: those are gone through below.
        var zero = run.IsFull ? 1 : 0;
        var moved = run.Db.Database.SqlQuery<Row>($"""
            select b.part_id, b.location_id, b.lot_slot, b.condition, b.on_hand, b.verified_on_hand from stock_balances b
            where ({zero} = 0 and b.on_hand <> b.verified_on_hand) or ({zero} = 1 and b.on_hand <> 0)
            """).AsAsyncEnumerable();
        await foreach (var row in moved.WithCancellation(cancellation))
        {
            var pile = new Pile(row.PartId, row.LocationId, row.LotSlot, row.Condition);
            var change = changes.GetValueOrDefault(pile);
            if (change.Quantity != 0) seen.Add(pile);
            var byLines = (run.IsFull ? 0 : row.VerifiedOnHand) + change.Quantity;
            if (byLines != row.OnHand) wrong.Add((pile, row.OnHand, byLines));
        }
        foreach (var (pile, change) in changes.Where(change => change.Value.Quantity != 0 && !seen.Contains(change.Key)))
        {
            var before = run.IsFull ? 0 : await Verified(run, pile, cancellation);
            wrong.Add((pile, before, before + change.Quantity));
        }

        foreach (var (pile, onHand, byLines) in wrong.OrderBy(one => one.Pile.PartId).ThenBy(one => one.Pile.LocationId))
            run.Found(this, await run.Name(pile, cancellation),
                $"The balance says {Quantity.FromThousandths(onHand)}, the ledger's lines say {Quantity.FromThousandths(byLines)}.");
        run.Counted = run.Counted with { Balances = await run.Db.StockBalances.LongCountAsync(cancellation) };
    }

    private static async Task<long> Verified(SoundnessRun run, Pile pile, CancellationToken cancellation) =>
        (await run.Db.Database.SqlQuery<long>($"""
            select b.verified_on_hand as "Value" from stock_balances b
            where b.part_id = {pile.PartId} and b.location_id = {pile.LocationId} and b.lot_slot = {pile.LotSlot} and b.condition = {pile.Condition}
            """).ToListAsync(cancellation)).FirstOrDefault();

    private sealed record Row(
        [property: Column("part_id")] int PartId, [property: Column("location_id")] int LocationId, [property: Column("lot_slot")] int LotSlot,
        [property: Column("condition")] string Condition, [property: Column("on_hand")] long OnHand, [property: Column("verified_on_hand")] long VerifiedOnHand);
}
