using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Cores;

internal sealed class CoreMapping : IEntityTypeConfiguration<CoreRow>
{
    public void Configure(EntityTypeBuilder<CoreRow> entity)
    {
        entity.ToTable("cores");
        entity.Text(row => row.Tag, Mapping.CodeLength);
        entity.Text(row => row.TagKey, Mapping.CodeLength);
        entity.Text(row => row.Serial, Mapping.CodeLength);
        entity.Text(row => row.ConditionOnArrival, Mapping.TextLength);
        entity.Text(row => row.ReceivedFrom, Mapping.NameLength);
        entity.Property(row => row.Version).IsConcurrencyToken();
        entity.HasIndex(row => row.TagKey).IsUnique();
        entity.HasIndex(row => new { row.FamilyId, row.State });
        entity.HasIndex(row => row.VariantId);
        entity.HasOne(row => row.Family).WithMany().HasForeignKey(row => row.FamilyId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Variant).WithMany().HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Findings).UsePropertyAccessMode(PropertyAccessMode.Field);
        entity.KnownWord(row => row.State, "cores_state");
        entity.KnownWord(row => row.Grade, "cores_grade");
        entity.Check("cores_deposit", "deposit >= 0");
        entity.Check("cores_torn_down_is_graded", "state <> 'torn-down' or grade is not null");
    }
}

internal sealed class CoreFindingMapping : IEntityTypeConfiguration<CoreFindingRow>
{
    public void Configure(EntityTypeBuilder<CoreFindingRow> entity)
    {
        entity.ToTable("core_findings");
        entity.Text(row => row.Note, Mapping.TextLength);
        entity.HasIndex(row => new { row.CoreId, row.Position }).IsUnique();
        entity.HasOne(row => row.Core).WithMany(row => row.Findings).HasForeignKey(row => row.CoreId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Finding, "core_findings_finding");
    }
}

internal sealed class DepositEntryMapping : IEntityTypeConfiguration<DepositEntryRow>
{
    public void Configure(EntityTypeBuilder<DepositEntryRow> entity)
    {
        entity.ToTable("deposit_entries", table => table.HasTrigger("deposit_entries_append_only"));
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);

        // Owed once, and settled once: given back or kept, never both, never twice.
        entity.HasIndex(row => new { row.CoreId, row.Settles }).IsUnique();
        entity.Check("deposit_entries_settles", "(entry = 'owed' and settles = 0) or (entry <> 'owed' and settles = 1)");
        entity.HasOne(row => row.Core).WithMany().HasForeignKey(row => row.CoreId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Entry, "deposit_entries_entry");
        entity.Check("deposit_entries_sign", "(entry = 'owed' and amount > 0) or (entry <> 'owed' and amount < 0)");
    }
}
