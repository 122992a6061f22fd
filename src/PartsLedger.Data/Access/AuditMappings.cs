using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Access;

internal sealed class AuditEntryMapping : IEntityTypeConfiguration<AuditEntryRow>
{
    public void Configure(EntityTypeBuilder<AuditEntryRow> entity)
    {
        entity.ToTable("audit_entries", table => table.HasTrigger("audit_entries_append_only"));
        entity.Text(row => row.Id, 32).ValueGeneratedNever();
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.What, Mapping.CodeLength);
        entity.Text(row => row.About, Mapping.CodeLength);
        entity.Text(row => row.Code, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.Text(row => row.Address, Mapping.CodeLength);
        entity.HasIndex(row => row.At);
        entity.HasIndex(row => row.Who);
        entity.KnownWord(row => row.Kind, "audit_entries_kind");
        entity.KnownWord(row => row.Way, "audit_entries_way");
        entity.Check("audit_entries_code", "(kind = 'refused' and code is not null) or (kind <> 'refused' and code is null)");
    }
}

internal sealed class AuditSealMapping : IEntityTypeConfiguration<AuditSealRow>
{
    public void Configure(EntityTypeBuilder<AuditSealRow> entity)
    {
        entity.ToTable("audit_seals", table => table.HasTrigger("audit_seals_append_only"));
        entity.HasKey(row => row.Position);
        entity.Property(row => row.Position).ValueGeneratedNever();
        entity.Text(row => row.EntryId, 32);
        entity.Text(row => row.Hash, 64);
        entity.HasIndex(row => row.EntryId).IsUnique();
        entity.HasOne(row => row.Entry).WithMany().HasForeignKey(row => row.EntryId).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class AuditWaitingMapping : IEntityTypeConfiguration<AuditWaitingRow>
{
    public void Configure(EntityTypeBuilder<AuditWaitingRow> entity)
    {
        entity.ToTable("audit_waiting");
        entity.HasKey(row => row.EntryId);
        entity.Text(row => row.EntryId, 32);
        entity.HasOne(row => row.Entry).WithOne().HasForeignKey<AuditWaitingRow>(row => row.EntryId).OnDelete(DeleteBehavior.Restrict);
    }
}
