using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Catalog;

internal sealed class PressureClassMapping : IEntityTypeConfiguration<PressureClassRow>
{
    public void Configure(EntityTypeBuilder<PressureClassRow> entity)
    {
        entity.ToTable("pressure_classes");
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.CodeKey, Mapping.CodeLength);
        entity.Text(row => row.Name, Mapping.NameLength);
        entity.HasIndex(row => row.CodeKey).IsUnique();
        entity.Check("pressure_classes_band", "relief > 0 and minus >= 0 and minus <= relief and plus >= 0");
    }
}

internal sealed class FamilyMapping : IEntityTypeConfiguration<FamilyRow>
{
    public void Configure(EntityTypeBuilder<FamilyRow> entity)
    {
        entity.ToTable("families");
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.CodeKey, Mapping.CodeLength);
        entity.Text(row => row.Name, Mapping.NameLength);
        entity.Text(row => row.HousingMaterial, Mapping.CodeLength);
        entity.Text(row => row.ValveMaterial, Mapping.CodeLength);
        entity.HasIndex(row => row.CodeKey).IsUnique();
        entity.KnownWord(row => row.ValveFit, "families_valve_fit");
        entity.Check("families_displacement", "displacement > 0");
        entity.Check("families_bore", "bore > 0");
        entity.Check("families_clearance_low", "clearance_min <= clearance_target");
        entity.Check("families_clearance_high", "clearance_target <= clearance_max");
        entity.Check("families_clearance_ends", "clearance_min <= clearance_max");
        entity.Check("families_form_limit", "form_limit >= 0");
        entity.Check("families_land_length", "land_length > 0");
    }
}

internal sealed class PartMapping : IEntityTypeConfiguration<PartRow>
{
    public void Configure(EntityTypeBuilder<PartRow> entity)
    {
        entity.ToTable("parts");
        entity.Text(row => row.Number, Mapping.CodeLength);
        entity.Text(row => row.NumberKey, Mapping.CodeLength);
        entity.Text(row => row.Name, Mapping.NameLength);
        entity.Text(row => row.Unit, Mapping.WordLength);
        entity.Text(row => row.FoldedKey, Mapping.CodeLength);
        entity.HasIndex(row => row.NumberKey).IsUnique();
        entity.HasIndex(row => row.FoldedKey);
        entity.HasIndex(row => row.PressureClassId);
        entity.HasOne(row => row.PressureClass).WithMany().HasForeignKey(row => row.PressureClassId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Kind, "parts_kind");
        entity.KnownWord(row => row.Service, "parts_service");
        entity.KnownWord(row => row.Tracking, "parts_tracking");
        entity.Check("parts_number", "number_key <> ''");
        entity.Check("parts_cost", "cost >= 0");
        entity.Check("parts_price", "price >= 0");
        entity.Check("parts_lead_days", "lead_days >= 0");
    }
}

internal sealed class AliasMapping : IEntityTypeConfiguration<AliasRow>
{
    public void Configure(EntityTypeBuilder<AliasRow> entity)
    {
        entity.ToTable("aliases");
        entity.Text(row => row.Number, Mapping.CodeLength);
        entity.Text(row => row.NumberKey, Mapping.CodeLength);
        entity.Text(row => row.Source, Mapping.NameLength);
        entity.Text(row => row.FoldedKey, Mapping.CodeLength);
        entity.HasIndex(row => new { row.NumberKey, row.PartId }).IsUnique();
        entity.HasIndex(row => row.FoldedKey);
        entity.HasIndex(row => row.PartId);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("aliases_number", "number_key <> ''");
    }
}

internal sealed class PackContentMapping : IEntityTypeConfiguration<PackContentRow>
{
    public void Configure(EntityTypeBuilder<PackContentRow> entity)
    {
        entity.ToTable("pack_contents");
        entity.HasIndex(row => new { row.PackId, row.PartId }).IsUnique();
        entity.HasIndex(row => row.PartId);
        entity.HasOne(row => row.Pack).WithMany().HasForeignKey(row => row.PackId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("pack_contents_quantity", "quantity > 0");
        entity.Check("pack_contents_not_itself", "pack_id <> part_id");
    }
}

internal sealed class SupersessionMapping : IEntityTypeConfiguration<SupersessionRow>
{
    public void Configure(EntityTypeBuilder<SupersessionRow> entity)
    {
        entity.ToTable("supersessions");
        entity.HasIndex(row => new { row.OldId, row.NewId }).IsUnique();
        entity.HasIndex(row => row.NewId);
        entity.HasOne(row => row.Old).WithMany().HasForeignKey(row => row.OldId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.New).WithMany().HasForeignKey(row => row.NewId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.SupersessionRule, "supersessions_rule");
        entity.Check("supersessions_quantity", "quantity > 0");
        entity.Check("supersessions_not_itself", "old_id <> new_id");
    }
}

internal sealed class VariantMapping : IEntityTypeConfiguration<VariantRow>
{
    public void Configure(EntityTypeBuilder<VariantRow> entity)
    {
        entity.ToTable("variants");
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.CodeKey, Mapping.CodeLength);
        entity.Text(row => row.SerialFrom, Mapping.CodeLength);
        entity.Text(row => row.SerialTo, Mapping.CodeLength);
        entity.Text(row => row.Rotation, Mapping.CodeLength);
        entity.Text(row => row.Note, Mapping.TextLength);
        entity.HasIndex(row => row.CodeKey).IsUnique();
        entity.HasIndex(row => row.FamilyId);
        entity.HasIndex(row => row.PressureClassId);
        entity.HasOne(row => row.Family).WithMany().HasForeignKey(row => row.FamilyId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.PressureClass).WithMany().HasForeignKey(row => row.PressureClassId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("variants_built", "built_from <= built_to");
    }
}

internal sealed class PositionMapping : IEntityTypeConfiguration<PositionRow>
{
    public void Configure(EntityTypeBuilder<PositionRow> entity)
    {
        entity.ToTable("positions");
        entity.Text(row => row.Name, Mapping.NameLength);

        entity.HasIndex(row => new { row.VariantId, row.Position }).IsUnique();
        entity.HasIndex(row => row.PartId);
        entity.HasOne(row => row.Variant).WithMany(row => row.Positions).HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.PartGroup, "positions_part_group");
        entity.KnownWord(row => row.Renew, "positions_renew");
        entity.Check("positions_quantity", "quantity > 0");
    }
}

internal sealed class ApplicationMapping : IEntityTypeConfiguration<ApplicationRow>
{
    public void Configure(EntityTypeBuilder<ApplicationRow> entity)
    {
        entity.ToTable("applications");
        entity.Text(row => row.Make, Mapping.CodeLength);
        entity.Text(row => row.MakeKey, Mapping.CodeLength);
        entity.Text(row => row.Model, Mapping.CodeLength);
        entity.Text(row => row.ModelKey, Mapping.CodeLength);
        entity.Text(row => row.Option, Mapping.CodeLength);
        entity.Text(row => row.OptionKey, Mapping.CodeLength);
        entity.HasIndex(row => new { row.MakeKey, row.ModelKey, row.YearFrom, row.OptionKey, row.VariantId }).IsUnique();
        entity.HasIndex(row => row.VariantId);
        entity.HasOne(row => row.Variant).WithMany().HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("applications_years", "year_from >= 1850 and year_from <= 2200");
        entity.Check("applications_year_to", "year_to >= year_from and year_to <= 2200");
    }
}
