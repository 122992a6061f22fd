using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Kits;

internal sealed class KitRecipeMapping : IEntityTypeConfiguration<KitRecipeRow>
{
    public void Configure(EntityTypeBuilder<KitRecipeRow> entity)
    {
        entity.ToTable("kit_recipes", table => table.HasTrigger("kit_recipes_append_only"));
        entity.Text(row => row.Instructions, Mapping.TextLength);
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => new { row.KitId, row.Revision }).IsUnique();
        entity.HasOne(row => row.Kit).WithMany().HasForeignKey(row => row.KitId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Lines).UsePropertyAccessMode(PropertyAccessMode.Field);
        entity.Navigation(row => row.Variants).UsePropertyAccessMode(PropertyAccessMode.Field);
        entity.KnownWord(row => row.JobScope, "kit_recipes_scope");
        entity.Check("kit_recipes_revision", "revision > 0");
    }
}

internal sealed class KitRecipeLineMapping : IEntityTypeConfiguration<KitRecipeLineRow>
{
    public void Configure(EntityTypeBuilder<KitRecipeLineRow> entity)
    {
        entity.ToTable("kit_recipe_lines", table => table.HasTrigger("kit_recipe_lines_append_only"));
        entity.HasIndex(row => new { row.RecipeId, row.PartId }).IsUnique();
        entity.HasIndex(row => row.PartId);
        entity.HasOne(row => row.Recipe).WithMany(row => row.Lines).HasForeignKey(row => row.RecipeId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("kit_recipe_lines_quantity", "quantity > 0");
    }
}

internal sealed class KitRecipeVariantMapping : IEntityTypeConfiguration<KitRecipeVariantRow>
{
    public void Configure(EntityTypeBuilder<KitRecipeVariantRow> entity)
    {
        entity.ToTable("kit_recipe_variants", table => table.HasTrigger("kit_recipe_variants_append_only"));
        entity.HasIndex(row => new { row.RecipeId, row.VariantId }).IsUnique();
        entity.HasIndex(row => row.VariantId);
        entity.HasOne(row => row.Recipe).WithMany(row => row.Variants).HasForeignKey(row => row.RecipeId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Variant).WithMany().HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class KitBuildMapping : IEntityTypeConfiguration<KitBuildRow>
{
    public void Configure(EntityTypeBuilder<KitBuildRow> entity)
    {
        entity.ToTable("kit_builds", table => table.HasTrigger("kit_builds_append_only"));
        entity.HasIndex(row => row.RecipeId);
        entity.HasIndex(row => row.LotId).IsUnique();
        entity.HasIndex(row => row.TransactionId).IsUnique();
        entity.HasOne(row => row.Recipe).WithMany().HasForeignKey(row => row.RecipeId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Lot).WithMany().HasForeignKey(row => row.LotId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Transaction).WithMany().HasForeignKey(row => row.TransactionId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("kit_builds_quantity", "quantity > 0");
    }
}
