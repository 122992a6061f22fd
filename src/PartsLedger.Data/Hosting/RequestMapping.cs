using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Hosting;

internal sealed class RequestMapping : IEntityTypeConfiguration<RequestRow>
{
    public void Configure(EntityTypeBuilder<RequestRow> entity)
    {
        entity.ToTable("requests");
        entity.HasKey(row => row.RequestId);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.Text(row => row.Kind, Mapping.CodeLength);
        entity.Text(row => row.Fingerprint, 64);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.HasIndex(row => row.At);
    }
}

internal sealed class SettingMapping : IEntityTypeConfiguration<SettingRow>
{
    public void Configure(EntityTypeBuilder<SettingRow> entity)
    {
        entity.ToTable("settings");
        entity.HasKey(row => row.Name);
        entity.Text(row => row.Name, Mapping.CodeLength);
        entity.Text(row => row.Value, Mapping.TextLength);
    }
}
