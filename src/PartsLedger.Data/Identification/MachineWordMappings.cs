using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Identification;

internal sealed class MachineWordMapping : IEntityTypeConfiguration<MachineWordRow>
{
    public void Configure(EntityTypeBuilder<MachineWordRow> entity)
    {
        entity.ToTable("machine_words");
        entity.Text(row => row.Word, MachineWordRow.MaxLength);
        entity.Text(row => row.Beginning, MachineWordRow.BeginningLength);
        entity.HasIndex(row => row.Word).IsUnique();
        entity.HasIndex(row => row.Beginning);
    }
}

internal sealed class ApplicationWordMapping : IEntityTypeConfiguration<ApplicationWordRow>
{
    public void Configure(EntityTypeBuilder<ApplicationWordRow> entity)
    {
        entity.ToTable("application_words");
        entity.HasKey(row => new { row.WordId, row.ApplicationId });
        entity.HasIndex(row => row.ApplicationId);
        entity.HasOne(row => row.Word).WithMany().HasForeignKey(row => row.WordId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Application).WithMany().HasForeignKey(row => row.ApplicationId).OnDelete(DeleteBehavior.Restrict);
    }
}
