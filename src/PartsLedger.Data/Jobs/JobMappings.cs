using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Jobs;

internal sealed class JobMapping : IEntityTypeConfiguration<JobRow>
{
    public void Configure(EntityTypeBuilder<JobRow> entity)
    {
        entity.ToTable("jobs");
        entity.Text(row => row.Number, Mapping.CodeLength);
        entity.Text(row => row.NumberKey, Mapping.CodeLength);
        entity.Text(row => row.CustomerReference, Mapping.NameLength);
        entity.Text(row => row.Machine, Mapping.NameLength);
        entity.Text(row => row.Stopped, Mapping.TextLength);
        entity.Text(row => row.StartedBy, Mapping.CodeLength);
        entity.Property(row => row.Version).IsConcurrencyToken();
        entity.HasIndex(row => row.NumberKey).IsUnique();
        entity.HasIndex(row => new { row.State, row.Id });

        // One core is rebuilt in one job, and one pair goes out in one.
        entity.HasIndex(row => row.CoreId).IsUnique().HasFilter("core_id is not null and state <> 'called-off'");
        entity.HasIndex(row => row.PairId).IsUnique().HasFilter("pair_id is not null and state <> 'called-off'");
        entity.HasIndex(row => row.VariantId);
        entity.HasOne(row => row.Core).WithMany().HasForeignKey(row => row.CoreId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Pair).WithMany().HasForeignKey(row => row.PairId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Variant).WithMany().HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Candidates).UsePropertyAccessMode(PropertyAccessMode.Field);
        entity.KnownWord(row => row.State, "jobs_state");
        entity.KnownWord(row => row.Priority, "jobs_priority");
        entity.KnownWord(row => row.JobScope, "jobs_scope");
        entity.KnownWord(row => row.Prefer, "jobs_prefer");
        entity.Check("jobs_promised_price", "promised_price >= 0");
        entity.Check("jobs_variant_settled", "state in ('taken-in', 'called-off') or variant_id is not null");
        entity.Check("jobs_list_accepted", "state not in ('list-accepted', 'assembled', 'tested', 'released') or list_revision > 0");
        entity.Check("jobs_released",
            "(state = 'released' and released_at is not null and stopped is null) or (state <> 'released' and released_at is null)");
        entity.Check("jobs_shims", "fitted_shim_count >= 0 and fitted_shim_stack >= 0");
    }
}

internal sealed class JobCandidateMapping : IEntityTypeConfiguration<JobCandidateRow>
{
    public void Configure(EntityTypeBuilder<JobCandidateRow> entity)
    {
        entity.ToTable("job_candidates");
        entity.HasIndex(row => new { row.JobId, row.VariantId }).IsUnique();
        entity.HasIndex(row => row.VariantId);
        entity.HasOne(row => row.Job).WithMany(row => row.Candidates).HasForeignKey(row => row.JobId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Variant).WithMany().HasForeignKey(row => row.VariantId).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class JobFindingMapping : IEntityTypeConfiguration<JobFindingRow>
{
    public void Configure(EntityTypeBuilder<JobFindingRow> entity)
    {
        entity.ToTable("job_findings", table => table.HasTrigger("job_findings_append_only"));
        entity.Text(row => row.Note, Mapping.TextLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => new { row.JobId, row.Position });
        entity.HasOne(row => row.Job).WithMany().HasForeignKey(row => row.JobId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Finding, "job_findings_finding");
    }
}

internal sealed class JobListMapping : IEntityTypeConfiguration<JobListRow>
{
    public void Configure(EntityTypeBuilder<JobListRow> entity)
    {
        entity.ToTable("job_lists", table => table.HasTrigger("job_lists_append_only"));
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => new { row.JobId, row.Revision }).IsUnique();
        entity.HasOne(row => row.Job).WithMany().HasForeignKey(row => row.JobId).OnDelete(DeleteBehavior.Restrict);
        entity.Navigation(row => row.Lines).UsePropertyAccessMode(PropertyAccessMode.Field);
    }
}

internal sealed class JobListLineMapping : IEntityTypeConfiguration<JobListLineRow>
{
    public void Configure(EntityTypeBuilder<JobListLineRow> entity)
    {
        entity.ToTable("job_list_lines", table => table.HasTrigger("job_list_lines_append_only"));
        entity.HasIndex(row => new { row.ListId, row.Line }).IsUnique();
        entity.HasIndex(row => row.PartId);
        entity.HasIndex(row => row.PairId);
        entity.HasOne(row => row.List).WithMany(row => row.Lines).HasForeignKey(row => row.ListId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Pair).WithMany().HasForeignKey(row => row.PairId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("job_list_lines_one_thing", "(part_id is null and pair_id is not null) or (part_id is not null and pair_id is null)");
        entity.Check("job_list_lines_quantity", "quantity > 0");
    }
}

internal sealed class JobShortMapping : IEntityTypeConfiguration<JobShortRow>
{
    public void Configure(EntityTypeBuilder<JobShortRow> entity)
    {
        entity.ToTable("job_shorts", table => table.HasTrigger("job_shorts_append_only"));
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => row.JobId);
        entity.HasIndex(row => row.PartId);
        entity.HasIndex(row => row.SubstituteId);
        entity.HasOne(row => row.Job).WithMany().HasForeignKey(row => row.JobId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Substitute).WithMany().HasForeignKey(row => row.SubstituteId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("job_shorts_quantity", "quantity > 0");
        entity.Check("job_shorts_substitute",
            "(substitute_id is null and substitute_quantity is null) or (substitute_id is not null and substitute_quantity > 0)");
    }
}

internal sealed class JobSurplusMapping : IEntityTypeConfiguration<JobSurplusRow>
{
    public void Configure(EntityTypeBuilder<JobSurplusRow> entity)
    {
        entity.ToTable("job_surplus", table => table.HasTrigger("job_surplus_append_only"));
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => row.JobId);
        entity.HasIndex(row => row.PackLotId);
        entity.HasIndex(row => row.LotId);
        entity.HasOne(row => row.Job).WithMany().HasForeignKey(row => row.JobId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Pack).WithMany().HasForeignKey(row => row.PackId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.PackLot).WithMany().HasForeignKey(row => row.PackLotId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Part).WithMany().HasForeignKey(row => row.PartId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Lot).WithMany().HasForeignKey(row => row.LotId).OnDelete(DeleteBehavior.Restrict);
        entity.HasOne(row => row.Transaction).WithMany().HasForeignKey(row => row.TransactionId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("job_surplus_quantity", "quantity > 0");
        entity.Check("job_surplus_posted",
            "(lot_id is null and transaction_id is null) or (lot_id is not null and transaction_id is not null)");
    }
}

internal sealed class JobEventMapping : IEntityTypeConfiguration<JobEventRow>
{
    public void Configure(EntityTypeBuilder<JobEventRow> entity)
    {
        entity.ToTable("job_events", table => table.HasTrigger("job_events_append_only"));
        entity.Text(row => row.What, Mapping.CodeLength);
        entity.Text(row => row.Detail, Mapping.TextLength);
        entity.Text(row => row.Why, Mapping.TextLength);
        entity.Text(row => row.Who, Mapping.CodeLength);
        entity.Text(row => row.RequestId, Mapping.CodeLength);
        entity.HasIndex(row => row.JobId);
        entity.HasOne(row => row.Job).WithMany().HasForeignKey(row => row.JobId).OnDelete(DeleteBehavior.Restrict);
    }
}
