using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Data.Testing;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Jobs;

namespace PartsLedger.Testing;

/// <summary>A check of the accepted list and what it last came to; null while nothing is written down.</summary>
public sealed record CheckOfJob(KitCheck Check, JobCheckRow? Last)
{
    /// <summary>"check 20 (Passages seen through the ports: failed)".</summary>
    public string Say => $"check {Check.Sequence} ({Check.Text}{(Last is null ? "" : $": {Domain.Catalog.Words.Of(Last.Result)}")})";

    public bool NeedsSignature => Last is { Result: CheckResult.Failed or CheckResult.Skipped, Signature: null };
}

/// <summary>Reads a job's checks, in the order of the work, and its runs on the bench.</summary>
public sealed class CheckDesk(LedgerContext db, JobDesk jobs)
{
    public async Task<IReadOnlyList<CheckOfJob>> Checks(JobRow job, CancellationToken cancellation) =>
        await Checks(job, await jobs.List(job, cancellation), cancellation);

    /// <param name="list">The job's accepted list; null before the first.</param>
    public async Task<IReadOnlyList<CheckOfJob>> Checks(JobRow job, AcceptedList? list, CancellationToken cancellation)
    {
        if (list is null) return [];
        var last = (await db.JobChecks.AsNoTracking().Include(row => row.Signature).Where(row => row.JobId == job.Id).OrderBy(row => row.Id)
            .ToListAsync(cancellation))
            .GroupBy(row => row.Sequence).ToDictionary(group => group.Key, group => group.Last());
        return [.. list.Answer.Checks.OrderBy(check => check.Sequence)
            .Select(check => new CheckOfJob(check, last.GetValueOrDefault(check.Sequence)))];
    }

    /// <summary>The job's runs on the bench, first to last.</summary>
    public async Task<IReadOnlyList<BenchRunRow>> Runs(int jobId, CancellationToken cancellation) => await db.BenchRuns.AsNoTracking()
        .Include(row => row.Readings.OrderBy(reading => reading.Rpm)).Include(row => row.PressureClass).Where(row => row.JobId == jobId)
        .OrderBy(row => row.Run).ToListAsync(cancellation);
}
