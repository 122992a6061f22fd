using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Jobs;

/// <summary>What a job's course says to acts on stock that only know its number. A number that no job has says nothing.</summary>
public static class JobBooks
{
    /// <summary>
    /// Waits for the turn on the job, so that nothing is booked to it while it is being released. Whoever releases it or calls it off takes
    /// it too.
    /// </summary>
    /// <returns>Whether there is such a job.</returns>
    public static async Task<bool> Turn(LedgerContext db, string job, CancellationToken cancellation)
    {
        var key = Code.KeyOf(job);
        return await db.Database.ExecuteSqlAsync($"update jobs set version = version where number_key = {key}", cancellation) > 0;
    }

    /// <summary>Takes the turn; why nothing may be reserved, pulled or given back for the job any more, or null while it goes on.</summary>
    public static async Task<Refusal?> WhyOver(LedgerContext db, string job, CancellationToken cancellation)
    {
        if (!await Turn(db, job, cancellation)) return null;
        var key = Code.KeyOf(job);
        var found = await db.Jobs.AsNoTracking()
            .Where(row => row.NumberKey == key && (row.State == JobState.Released || row.State == JobState.CalledOff))
            .Select(row => new { row.Number, row.State }).SingleOrDefaultAsync(cancellation);
        return found is null ? null : JobCourse.Refuse(new JobStanding(found.Number, found.State), JobStep.Pull);
    }

    /// <summary>Why a pack may not come back as a whole: pieces of it were taken out.</summary>
    public static async Task<Refusal?> WhyOpened(LedgerContext db, string job, int partId, int? lotId, CancellationToken cancellation)
    {
        var key = Code.KeyOf(job);
        var opened = await db.JobSurplus.AsNoTracking().Where(row => row.Job.NumberKey == key && row.PackId == partId
            && row.PackLotId == lotId)
            .Select(row => row.Pack.Number).FirstOrDefaultAsync(cancellation);
        return opened is null ? null
            : new Refusal("PACK_OPENED", $"Job {job.Trim()} has opened its {opened}: surplus pieces of it were put away.",
            "It cannot come back as a whole.");
    }
}
