using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Testing;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Jobs;

namespace PartsLedger.Testing;

/// <summary>What the bench should show of a job's pump, before anything was measured: between which pressures the relief opens, and which flow.</summary>
public static class BenchExpected
{
    /// <summary>An idling and a working speed, a minute, and the oil's temperature: common practice, no source.</summary>
    private static readonly int[] UsualSpeeds = [700, 2000];
    private const int UsualMilliCelsius = 50_000, UsualGrade = 32;

    [AllowedToEveryone]
    public sealed record Query(string Job) : IQuery<Answer>;

    /// <param name="Limits">The class's; null while the variant is not settled.</param>
    /// <param name="Flows">At the speeds of the last run, or at usual ones; empty where the family's displacement is not known.</param>
    public sealed record Answer(string Job, ClassLimits? Limits, decimal OilCelsius, IReadOnlyList<ExpectedFlow> Flows);

    public sealed class Handler(JobDesk desk, CheckDesk checks, FlowReckoning reckoning) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var found = await desk.Job(query.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            if (job.Variant is null) return new Answer(job.Number, null, UsualMilliCelsius / 1000m, []);
            var last = await checks.Runs(job.Id, cancellation) is [.., var latest] ? latest : null;
            var (oil, grade) = (last?.OilMilliCelsius ?? UsualMilliCelsius, last?.OilGrade ?? UsualGrade);
            var ofClass = job.Variant.PressureClass;
            return new Answer(job.Number, new ClassLimits(ofClass.Code, ofClass.Relief, ofClass.Minus, ofClass.Plus), oil / 1000m,
                await reckoning.At(last is null ? UsualSpeeds : [.. last.Readings.Select(reading => reading.Rpm)], job, oil, grade, null, cancellation));
        }
    }
}

/// <summary>Reckons the flow to be expected of a job's pump as it is put together; see <see cref="BenchExpectation"/>.</summary>
public sealed class FlowReckoning(LedgerContext db, IQueryHandler<JudgeFit.Query, JudgeFit.Answer> fit)
{
    public async Task<IReadOnlyList<ExpectedFlow>> At(
        IReadOnlyList<int> speeds, JobRow job, int oilMilliCelsius, int oilGrade, MeteringValve? valve, CancellationToken cancellation) =>
        BenchExpectation.At(speeds, job.Variant!.Family.Displacement, await Leak(job, oilMilliCelsius, oilGrade, cancellation), valve);

    /// <summary>What leaks past the spool of the fitted pair with oil of this temperature; null where that cannot be reckoned.</summary>
    private async Task<Band?> Leak(JobRow job, int oilMilliCelsius, int oilGrade, CancellationToken cancellation)
    {
        if (job.PairId is not { } pairId) return null;
        var halves = await db.Units.AsNoTracking().Where(row => row.PairId == pairId).OrderBy(row => row.Role).Select(row => row.Tag)
            .ToListAsync(cancellation);
        if (halves.Count != 2) return null;
        var judged = await fit.Handle(new JudgeFit.Query(halves[0], halves[1], oilMilliCelsius / 1000m, oilGrade), cancellation);
        return judged.Succeeded ? judged.Result.LeakMlPerMinute : null;
    }
}
