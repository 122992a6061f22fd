using System.ComponentModel.DataAnnotations.Schema;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock.Soundness;

/// <summary>What a balance says is reserved is what open reservations name of it, and never more than is on hand.</summary>
internal sealed class ReservedIsSpokenFor : ISoundnessRule
{
    public string Code => "RESERVED_IS_SPOKEN_FOR";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        var wrong = await run.Db.Database.SqlQuery<Row>($"""
            select b.part_id, b.location_id, b.lot_slot, b.condition, b.on_hand, b.reserved, cast(coalesce(r.spoken, 0) as bigint) as spoken
            from stock_balances b
            left join (select balance_id, sum(still_open) as spoken from reservation_lines where still_open <> 0 group by balance_id) r on r.balance_id = b.id
            where b.reserved <> coalesce(r.spoken, 0) or b.reserved > b.on_hand
            """).ToListAsync(cancellation);
        foreach (var row in wrong)
        {
            var where = await run.Name(new Pile(row.PartId, row.LocationId, row.LotSlot, row.Condition), cancellation);
            if (row.Reserved != row.Spoken)
                run.Found(this, where, $"{Quantity.FromThousandths(row.Reserved)} are reserved, open reservations name {Quantity.FromThousandths(row.Spoken)}.");
            if (row.Reserved > row.OnHand)
                run.Found(this, where, $"{Quantity.FromThousandths(row.Reserved)} are reserved of {Quantity.FromThousandths(row.OnHand)} on hand.");
        }

        var strange = await run.Db.ReservationLines.AsNoTracking().Where(line => line.Open != Quantity.Zero && line.PartId != line.Balance.PartId)
            .Select(line => new { line.Id, line.ReservationId, line.Part.Number, Other = line.Balance.Part.Number }).ToListAsync(cancellation);
        foreach (var line in strange)
            run.Found(this, $"reservation {line.ReservationId}, line {line.Id}", $"It keeps part {line.Number} out of pieces of part {line.Other}.");
        run.Counted = run.Counted with { Reservations = await run.Db.Reservations.LongCountAsync(cancellation) };
    }

    private sealed record Row(
        [property: Column("part_id")] int PartId, [property: Column("location_id")] int LocationId, [property: Column("lot_slot")] int LotSlot,
        [property: Column("condition")] string Condition, [property: Column("on_hand")] long OnHand, [property: Column("reserved")] long Reserved,
        [property: Column("spoken")] long Spoken);
}
