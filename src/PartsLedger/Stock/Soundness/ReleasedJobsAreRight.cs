using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Jobs;

namespace PartsLedger.Stock.Soundness;

/// <summary>
/// A released job's pair has gone out whole and of the job's class, its last run on the bench passed by that class, and the last result of
/// each check passed or was signed. Read from the rows, not by the rules that let the job go.
/// </summary>
internal sealed class ReleasedJobsAreRight : ISoundnessRule
{
    public string Code => "RELEASED_JOBS_ARE_RIGHT";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        var jobs = run.Db.Jobs.AsNoTracking().Where(job => job.State == JobState.Released);
        foreach (var number in await jobs.Where(job => job.PairId != null && (job.Pair!.State != PairState.Gone
                || job.Pair!.PressureClassId != job.Variant!.PressureClassId || job.Pair!.Halves.Count != 2
                || job.Pair!.Halves.Any(half => half.State != UnitState.Gone))).Select(job => job.Number).ToListAsync(cancellation))
            run.Found(this, $"job {number}", "Its pair has not gone out whole and of the job's class.");

        var tested = await jobs.Select(job => new
        {
            job.Number, job.Variant!.PressureClassId,
            Last = run.Db.BenchRuns.Where(one => one.JobId == job.Id).OrderByDescending(one => one.Run)
                .Select(one => new { one.Verdict, one.PressureClassId, one.Assembly }).FirstOrDefault(),
            job.Assembly,
        }).ToListAsync(cancellation);
        foreach (var job in tested.Where(job => job.Last is not { Verdict: BenchVerdict.Passed } last
            || last.PressureClassId != job.PressureClassId || last.Assembly != job.Assembly))
            run.Found(this, $"job {job.Number}", "It went out without having passed its last run on the bench by its own class.");

        foreach (var check in await run.Db.JobChecks.AsNoTracking()
            .Where(row => row.Job.State == JobState.Released && row.Result != CheckResult.Passed && row.Signature == null
                && !run.Db.JobChecks.Any(later => later.JobId == row.JobId && later.Sequence == row.Sequence && later.Id > row.Id))
            .Select(row => new { row.Job.Number, row.Sequence }).ToListAsync(cancellation))
            run.Found(this, $"job {check.Number}", $"It went out with check {check.Sequence} neither passed nor signed.");
    }
}
