using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Identification;

internal sealed class FeatureMapping : IEntityTypeConfiguration<FeatureRow>
{
    public void Configure(EntityTypeBuilder<FeatureRow> entity)
    {
        entity.ToTable("features");
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.CodeKey, Mapping.CodeLength);
        entity.Text(row => row.Question, Mapping.TextLength);
        entity.HasIndex(row => row.CodeKey).IsUnique();
        entity.Check("features_seconds", "seconds >= 0");
    }
}

internal sealed class VariantFeatureMapping : IEntityTypeConfiguration<VariantFeatureRow>
{
    public void Configure(EntityTypeBuilder<VariantFeatureRow> entity)
    {
        entity.ToTable("variant_features");
        entity.Text(row => row.Value, Mapping.NameLength);
        entity.HasIndex(row => new { row.VariantId, row.FeatureId }).IsUnique();
        entity.HasIndex(row => row.FeatureId);
        entity.HasOne(row => row.Variant).WithMany().HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Feature).WithMany().HasForeignKey(row => row.FeatureId).OnDelete(DeleteBehavior.Restrict);
    }
}
