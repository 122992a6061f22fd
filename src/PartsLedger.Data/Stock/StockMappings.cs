using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Stock;

internal sealed class LocationMapping : IEntityTypeConfiguration<LocationRow>
{
    public void Configure(EntityTypeBuilder<LocationRow> entity)
    {
        entity.ToTable("locations");
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.CodeKey, Mapping.CodeLength);
        entity.Text(row => row.Name, Mapping.NameLength);
        entity.HasIndex(row => row.CodeKey).IsUnique();
        entity.KnownWord(row => row.Kind, "locations_kind");
    }
}

internal sealed class LotMapping : IEntityTypeConfiguration<LotRow>
{
    public void Configure(EntityTypeBuilder<LotRow> entity)
    {
        entity.ToTable("lots");
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.CodeKey, Mapping.CodeLength);
        entity.HasIndex(row => new { row.PartId, row.CodeKey }).IsUnique();

        // A line or balance names its lot together with its part, so a lot of another part cannot be named.
        entity.HasAlternateKey(row => new { row.PartId, row.Id });
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("lots_dates", "cured_on <= expires_on");
    }
}

internal sealed class StockTransactionMapping : IEntityTypeConfiguration<StockTransactionRow>
{
    public void Configure(EntityTypeBuilder<StockTransactionRow> entity)
    {
        entity.ToTable("stock_transactions", table => table.HasTrigger("stock_transactions_append_only"));
        entity.Text(row => row.Act, Mapping.WordLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.BelongsTo, Mapping.WordLength);
        entity.Text(row => row.BelongsToRef, Mapping.CodeLength);
        entity.HasIndex(row => row.RequestId);
        entity.HasIndex(row => new { row.BelongsTo, row.BelongsToRef });
        entity.HasIndex(row => row.At);

        // Reversed at most once.
        entity.HasIndex(row => row.ReversesId).IsUnique();
        entity.HasOne(row => row.Reverses).WithMany().HasForeignKey(row => row.ReversesId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Lines).UsePropertyAccessMode(PropertyAccessMode.Field);
    }
}

internal sealed class StockLineMapping : IEntityTypeConfiguration<StockLineRow>
{
    public void Configure(EntityTypeBuilder<StockLineRow> entity)
    {
        entity.ToTable("stock_lines", table => table.HasTrigger("stock_lines_append_only"));
        entity.HasIndex(row => row.TransactionId);
        entity.HasIndex(row => new { row.PartId, row.LocationId, row.Id });
        entity.HasIndex(row => row.LocationId);
        entity.HasOne(row => row.Transaction).WithMany(row => row.Lines).HasForeignKey(row => row.TransactionId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Location).WithMany().HasForeignKey(row => row.LocationId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Lot).WithMany().HasForeignKey(row => new { row.PartId, row.LotId })
            .HasPrincipalKey(lot => new { lot.PartId, lot.Id }).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Condition, "stock_lines_condition");
        entity.KnownWord(row => row.Outside, "stock_lines_outside");
        entity.Check("stock_lines_one_place", "(location_id is null and outside is not null) or (location_id is not null and outside is null)");
        entity.Check("stock_lines_quantity", "quantity <> 0");
        entity.Check("stock_lines_unit_cost", "unit_cost >= 0");
        entity.Check("stock_lines_value", "(quantity > 0 and value >= 0) or (quantity < 0 and value <= 0)");
    }
}

internal sealed class StockBalanceMapping : IEntityTypeConfiguration<StockBalanceRow>
{
    public void Configure(EntityTypeBuilder<StockBalanceRow> entity)
    {
        entity.ToTable("stock_balances");
        entity.HasIndex(row => new { row.PartId, row.LocationId, row.LotSlot, row.Condition }).IsUnique();
        entity.HasIndex(row => row.LocationId);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Location).WithMany().HasForeignKey(row => row.LocationId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Lot).WithMany().HasForeignKey(row => new { row.PartId, row.LotId })
            .HasPrincipalKey(lot => new { lot.PartId, lot.Id }).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Condition, "stock_balances_condition");
        entity.Check("stock_balances_lot_slot", "(lot_id is null and lot_slot = 0) or (lot_id is not null and lot_id = lot_slot)");
        entity.Check("stock_balances_on_hand", "on_hand >= 0");
        entity.Check("stock_balances_reserved", "reserved >= 0 and reserved <= on_hand");
    }
}

internal sealed class StockPartMapping : IEntityTypeConfiguration<StockPartRow>
{
    public void Configure(EntityTypeBuilder<StockPartRow> entity)
    {
        entity.ToTable("stock_parts");
        entity.HasKey(row => row.PartId);
        entity.Property(row => row.PartId).ValueGeneratedNever();
        entity.HasOne(row => row.Part).WithOne().HasForeignKey<StockPartRow>(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("stock_parts_on_hand", "on_hand >= 0");
        entity.Check("stock_parts_value", "value >= 0 and (on_hand > 0 or value = 0)");
    }
}

internal sealed class CostLayerMapping : IEntityTypeConfiguration<CostLayerRow>
{
    public void Configure(EntityTypeBuilder<CostLayerRow> entity)
    {
        entity.ToTable("cost_layers");
        entity.HasIndex(row => new { row.PartId, row.Id });
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Transaction).WithMany().HasForeignKey(row => row.TransactionId).OnDelete(DeleteBehavior.Restrict);
        entity.Property(row => row.Left).HasColumnName("quantity_left");
        entity.Check("cost_layers_left", "quantity_left >= 0 and value_left >= 0 and (quantity_left > 0 or value_left = 0)");
    }
}

internal sealed class ReservationMapping : IEntityTypeConfiguration<ReservationRow>
{
    public void Configure(EntityTypeBuilder<ReservationRow> entity)
    {
        entity.ToTable("reservations");
        entity.Text(row => row.Job, Mapping.CodeLength);
        entity.Text(row => row.JobKey, Mapping.CodeLength);
        entity.Text(row => row.MadeBy, Mapping.CodeLength);
        entity.HasIndex(row => row.JobKey);
        entity.HasIndex(row => row.ExpiresAt);
        entity.Navigation(row => row.Lines).UsePropertyAccessMode(PropertyAccessMode.Field);
    }
}

internal sealed class ReservationLineMapping : IEntityTypeConfiguration<ReservationLineRow>
{
    public void Configure(EntityTypeBuilder<ReservationLineRow> entity)
    {
        entity.ToTable("reservation_lines");
        entity.Property(row => row.Open).HasColumnName("still_open");
        entity.Property(row => row.Reserved).HasColumnName("reserved");
        entity.HasIndex(row => row.ReservationId);
        entity.HasIndex(row => row.BalanceId);
        entity.HasIndex(row => row.PartId);
        entity.HasOne(row => row.Reservation).WithMany(row => row.Lines).HasForeignKey(row => row.ReservationId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Balance).WithMany().HasForeignKey(row => row.BalanceId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("reservation_lines_open", "reserved > 0 and still_open >= 0 and still_open <= reserved");
    }
}

internal sealed class StockCountMapping : IEntityTypeConfiguration<StockCountRow>
{
    public void Configure(EntityTypeBuilder<StockCountRow> entity)
    {
        entity.ToTable("stock_counts");
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.HasIndex(row => new { row.PartId, row.LocationId, row.LotSlot, row.Condition, row.Waiting });
        entity.HasIndex(row => row.LocationId);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Location).WithMany().HasForeignKey(row => row.LocationId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Condition, "stock_counts_condition");
        entity.Check("stock_counts_counted", "counted >= 0");
    }
}

internal sealed class StockFeedMapping : IEntityTypeConfiguration<StockFeedRow>
{
    public void Configure(EntityTypeBuilder<StockFeedRow> entity)
    {
        entity.ToTable("stock_feed", table => table.HasTrigger("stock_feed_append_only"));
        entity.HasKey(row => row.Position);
        entity.Property(row => row.Position).ValueGeneratedNever();
        entity.HasIndex(row => row.TransactionId).IsUnique();
        entity.HasOne(row => row.Transaction).WithMany().HasForeignKey(row => row.TransactionId).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class StockUnfedMapping : IEntityTypeConfiguration<StockUnfedRow>
{
    public void Configure(EntityTypeBuilder<StockUnfedRow> entity)
    {
        entity.ToTable("stock_unfed");
        entity.HasKey(row => row.TransactionId);
        entity.Property(row => row.TransactionId).ValueGeneratedNever();
        entity.HasOne(row => row.Transaction).WithOne().HasForeignKey<StockUnfedRow>(row => row.TransactionId).OnDelete(DeleteBehavior.Restrict);
    }
}
