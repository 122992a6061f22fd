using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Fit;

internal sealed class UnitMapping : IEntityTypeConfiguration<UnitRow>
{
    public void Configure(EntityTypeBuilder<UnitRow> entity)
    {
        entity.ToTable("units");
        entity.Text(row => row.Tag, Mapping.CodeLength);
        entity.Text(row => row.TagKey, Mapping.CodeLength);
        entity.Text(row => row.Job, Mapping.CodeLength);
        entity.Property(row => row.Version).IsConcurrencyToken();
        entity.HasIndex(row => row.TagKey).IsUnique();
        entity.HasIndex(row => new { row.FamilyId, row.Role, row.State });
        entity.HasIndex(row => row.LocationId);
        entity.HasIndex(row => row.CoreId);
        entity.HasOne(row => row.Family).WithMany().HasForeignKey(row => row.FamilyId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.PressureClass).WithMany().HasForeignKey(row => row.PressureClassId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Core).WithMany().HasForeignKey(row => row.CoreId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Location).WithMany().HasForeignKey(row => row.LocationId).OnDelete(DeleteBehavior.Restrict);

        // One housing and one valve in a pair at the most; one pair for a unit at the most, since it is one column.
        entity.HasIndex(row => new { row.PairId, row.Role }).IsUnique();

        // The pair is named together with its family, and again with its class where the unit has one: a half of another family or class
        // cannot be named.
        entity.HasOne(row => row.Pair).WithMany(row => row.Halves).HasForeignKey(row => new { row.PairId, row.FamilyId })
            .HasPrincipalKey(pair => new { pair.Id, pair.FamilyId }).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne<PairRow>().WithMany().HasForeignKey(row => new { row.PairId, row.PressureClassId })
            .HasPrincipalKey(pair => new { pair.Id, pair.PressureClassId }).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Role, "units_role");
        entity.KnownWord(row => row.State, "units_state");
        entity.Check("units_no_place_in_a_pair", "pair_id is null or (location_id is null and job is null)");
        entity.Check("units_paired_valve_has_class", "pair_id is null or role = 'housing' or pressure_class_id is not null");
        entity.Check("units_shims", "shim_count >= 0");
        entity.Check("units_shim_stack", "shim_stack >= 0");
        entity.Check("units_gone_has_no_place", "state not in ('condemned', 'gone') or job is null");
    }
}

internal sealed class PairMapping : IEntityTypeConfiguration<PairRow>
{
    public void Configure(EntityTypeBuilder<PairRow> entity)
    {
        entity.ToTable("pairs");
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.CodeKey, Mapping.CodeLength);
        entity.Text(row => row.Job, Mapping.CodeLength);
        entity.Property(row => row.Version).IsConcurrencyToken();
        entity.HasIndex(row => row.CodeKey).IsUnique();
        entity.HasIndex(row => new { row.FamilyId, row.PressureClassId, row.State });
        entity.HasIndex(row => row.LocationId);
        entity.HasOne(row => row.Family).WithMany().HasForeignKey(row => row.FamilyId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.PressureClass).WithMany().HasForeignKey(row => row.PressureClassId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Location).WithMany().HasForeignKey(row => row.LocationId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Halves).UsePropertyAccessMode(PropertyAccessMode.Field);
        entity.KnownWord(row => row.Origin, "pairs_origin");
        entity.KnownWord(row => row.State, "pairs_state");
        entity.Check("pairs_cost", "cost >= 0");
        entity.Check("pairs_parted_has_no_place", "state = 'together' or (location_id is null and job is null)");
    }
}

internal sealed class UnitEventMapping : IEntityTypeConfiguration<UnitEventRow>
{
    public void Configure(EntityTypeBuilder<UnitEventRow> entity)
    {
        entity.ToTable("unit_events", table => table.HasTrigger("unit_events_append_only"));
        entity.Text(row => row.What, Mapping.CodeLength);
        entity.Text(row => row.Detail, Mapping.TextLength);
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => row.UnitId);
        entity.HasIndex(row => row.PairId);
        entity.HasIndex(row => row.CoreId);
        entity.HasOne(row => row.Core).WithMany().HasForeignKey(row => row.CoreId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Unit).WithMany().HasForeignKey(row => row.UnitId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Pair).WithMany().HasForeignKey(row => row.PairId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("unit_events_about_something", "core_id is not null or unit_id is not null or pair_id is not null");
    }
}

internal sealed class GaugeMapping : IEntityTypeConfiguration<GaugeRow>
{
    public void Configure(EntityTypeBuilder<GaugeRow> entity)
    {
        entity.ToTable("gauges");
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.CodeKey, Mapping.CodeLength);
        entity.Text(row => row.Kind, Mapping.NameLength);
        entity.HasIndex(row => row.CodeKey).IsUnique();
        entity.Check("gauges_uncertainty", "uncertainty > 0");
        entity.Check("gauges_dates", "calibrated_on <= due_on");
    }
}

internal sealed class MeasurementMapping : IEntityTypeConfiguration<MeasurementRow>
{
    public void Configure(EntityTypeBuilder<MeasurementRow> entity)
    {
        entity.ToTable("measurements", table => table.HasTrigger("measurements_append_only"));
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.HasIndex(row => new { row.UnitId, row.Characteristic, row.TakenAt }).IsUnique();
        entity.HasIndex(row => row.GaugeId);
        entity.HasOne(row => row.Unit).WithMany().HasForeignKey(row => row.UnitId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Gauge).WithMany().HasForeignKey(row => row.GaugeId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Readings).UsePropertyAccessMode(PropertyAccessMode.Field);
        entity.KnownWord(row => row.Characteristic, "measurements_characteristic");
        entity.Check("measurements_temperature", "milli_celsius >= -40000 and milli_celsius <= 150000");
    }
}

internal sealed class ReadingMapping : IEntityTypeConfiguration<ReadingRow>
{
    public void Configure(EntityTypeBuilder<ReadingRow> entity)
    {
        entity.ToTable("readings", table => table.HasTrigger("readings_append_only"));
        entity.HasIndex(row => new { row.MeasurementId, row.Sequence }).IsUnique();
        entity.HasOne(row => row.Measurement).WithMany(row => row.Readings).HasForeignKey(row => row.MeasurementId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("readings_diameter", "diameter > 0");
    }
}

internal sealed class ProposalMapping : IEntityTypeConfiguration<ProposalRow>
{
    public void Configure(EntityTypeBuilder<ProposalRow> entity)
    {
        entity.ToTable("pair_proposals");
        entity.Text(row => row.MadeBy, Mapping.CodeLength);
        entity.Property(row => row.Version).IsConcurrencyToken();
        entity.HasOne(row => row.Family).WithMany().HasForeignKey(row => row.FamilyId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Lines).UsePropertyAccessMode(PropertyAccessMode.Field);
    }
}

internal sealed class ProposalLineMapping : IEntityTypeConfiguration<ProposalLineRow>
{
    public void Configure(EntityTypeBuilder<ProposalLineRow> entity)
    {
        entity.ToTable("pair_proposal_lines");

        // A half is held by one proposal at a time.
        entity.HasIndex(row => row.HousingId).IsUnique().HasFilter("state = 'held'");
        entity.HasIndex(row => row.ValveId).IsUnique().HasFilter("state = 'held'");
        entity.HasIndex(row => row.ProposalId);
        entity.HasOne(row => row.Proposal).WithMany(row => row.Lines).HasForeignKey(row => row.ProposalId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Housing).WithMany().HasForeignKey(row => row.HousingId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Valve).WithMany().HasForeignKey(row => row.ValveId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.BoreMeasurement).WithMany().HasForeignKey(row => row.BoreMeasurementId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.SpoolMeasurement).WithMany().HasForeignKey(row => row.SpoolMeasurementId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.State, "pair_proposal_lines_state");
        entity.Check("pair_proposal_lines_two_halves", "housing_id <> valve_id");
    }
}
