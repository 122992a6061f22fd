using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Kits;

internal sealed class CautionMapping : IEntityTypeConfiguration<CautionRow>
{
    public void Configure(EntityTypeBuilder<CautionRow> entity)
    {
        entity.ToTable("cautions");
        entity.Text(row => row.AppliesTo, Mapping.CodeLength);
        entity.Text(row => row.AppliesToKey, Mapping.CodeLength);
        entity.Text(row => row.Text, Mapping.TextLength);
        entity.Text(row => row.TextHash, 64);
        entity.HasIndex(row => new { row.AppliesToKey, row.TextHash }).IsUnique();
        entity.KnownWord(row => row.Severity, "cautions_severity");
    }
}

internal sealed class CheckMapping : IEntityTypeConfiguration<CheckRow>
{
    public void Configure(EntityTypeBuilder<CheckRow> entity)
    {
        entity.ToTable("checks");
        entity.Text(row => row.Text, Mapping.TextLength);
        entity.Text(row => row.Expected, Mapping.NameLength);
        entity.Text(row => row.Unit, Mapping.WordLength);
        entity.HasIndex(row => new { row.FamilyId, row.Sequence }).IsUnique();
        entity.HasIndex(row => new { row.VariantId, row.Sequence }).IsUnique();
        entity.HasOne(row => row.Family).WithMany().HasForeignKey(row => row.FamilyId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Variant).WithMany().HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("checks_one_owner", "(family_id is null and variant_id is not null) or (family_id is not null and variant_id is null)");
        entity.Check("checks_range", "low_millionths <= high_millionths");
    }
}

internal sealed class ToolMapping : IEntityTypeConfiguration<ToolRow>
{
    public void Configure(EntityTypeBuilder<ToolRow> entity)
    {
        entity.ToTable("tools");
        entity.Text(row => row.Name, Mapping.NameLength);
        entity.Text(row => row.NameKey, Mapping.NameLength);
        entity.Text(row => row.Note, Mapping.TextLength);
        entity.HasIndex(row => new { row.FamilyId, row.NameKey }).IsUnique();
        entity.HasIndex(row => new { row.VariantId, row.NameKey }).IsUnique();
        entity.HasOne(row => row.Family).WithMany().HasForeignKey(row => row.FamilyId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Variant).WithMany().HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("tools_one_owner", "(family_id is null and variant_id is not null) or (family_id is not null and variant_id is null)");
    }
}
