using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Testing;

internal sealed class JobCheckMapping : IEntityTypeConfiguration<JobCheckRow>
{
    public void Configure(EntityTypeBuilder<JobCheckRow> entity)
    {
        entity.ToTable("job_checks", table => table.HasTrigger("job_checks_append_only"));
        entity.Text(row => row.Text, Mapping.TextLength);
        entity.Text(row => row.Expected, Mapping.NameLength);
        entity.Text(row => row.Unit, Mapping.WordLength);
        entity.Text(row => row.Given, Mapping.CodeLength);
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => new { row.JobId, row.Sequence });
        entity.HasOne(row => row.Job).WithMany().HasForeignKey(row => row.JobId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Result, "job_checks_result");
        entity.Check("job_checks_skipped_has_reason", "result <> 'skipped' or why is not null");
    }
}

internal sealed class JobCheckSignatureMapping : IEntityTypeConfiguration<JobCheckSignatureRow>
{
    public void Configure(EntityTypeBuilder<JobCheckSignatureRow> entity)
    {
        entity.ToTable("job_check_signatures", table => table.HasTrigger("job_check_signatures_append_only"));
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => row.CheckId).IsUnique();
        entity.HasOne(row => row.Check).WithOne(row => row.Signature).HasForeignKey<JobCheckSignatureRow>(row => row.CheckId)
            .OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class BenchRunMapping : IEntityTypeConfiguration<BenchRunRow>
{
    public void Configure(EntityTypeBuilder<BenchRunRow> entity)
    {
        entity.ToTable("bench_runs", table => table.HasTrigger("bench_runs_append_only"));
        entity.Text(row => row.Bench, Mapping.CodeLength);
        entity.Text(row => row.BenchKey, Mapping.CodeLength);
        entity.Text(row => row.Noise, Mapping.TextLength);
        entity.Text(row => row.Rejected, Mapping.TextLength);
        entity.Text(row => row.Reasons, Mapping.TextLength);
        entity.Text(row => row.TestedBy, Mapping.CodeLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => new { row.JobId, row.Run }).IsUnique();
        entity.HasIndex(row => row.BenchKey);
        entity.HasOne(row => row.Job).WithMany().HasForeignKey(row => row.JobId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.PressureClass).WithMany().HasForeignKey(row => row.PressureClassId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Readings).UsePropertyAccessMode(PropertyAccessMode.Field);
        entity.KnownWord(row => row.Verdict, "bench_runs_verdict");
        entity.Check("bench_runs_oil", "oil_milli_celsius >= -40000 and oil_milli_celsius <= 150000");
        entity.Check("bench_runs_relief", "relief >= 0 and leakage >= 0");
    }
}

internal sealed class BenchReadingMapping : IEntityTypeConfiguration<BenchReadingRow>
{
    public void Configure(EntityTypeBuilder<BenchReadingRow> entity)
    {
        entity.ToTable("bench_readings", table => table.HasTrigger("bench_readings_append_only"));
        entity.HasIndex(row => new { row.RunId, row.Rpm }).IsUnique();
        entity.HasOne(row => row.Run).WithMany(row => row.Readings).HasForeignKey(row => row.RunId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("bench_readings_speed", "rpm > 0 and flow >= 0");
    }
}
