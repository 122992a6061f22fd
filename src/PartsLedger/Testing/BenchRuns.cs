using System.Text.Json;
using PartsLedger.Data.Testing;
using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Jobs;

namespace PartsLedger.Testing;

/// <summary>A job's checks with what they came to, and its runs on the bench.</summary>
public static class BenchRuns
{
    [AllowedToEveryone]
    public sealed record Query(string Job) : IQuery<Answer>;

    public sealed record Answer(string Job, IReadOnlyList<CheckOfJob> Checks, IReadOnlyList<Run> Runs);

    /// <param name="Counts">It was tested as it is assembled now.</param>
    public sealed record Run(
        int Number, string Bench, string TestedBy, DateTimeOffset At, Pressure Relief, decimal OilCelsius, int OilGrade, Volume Leakage,
            string? Noise, string PressureClass,
        BenchVerdict Verdict, string? Reasons, bool Counts, IReadOnlyList<MeasuredFlow> Flows, IReadOnlyList<ExpectedFlow> Expected)
    {
        internal static Run Of(BenchRunRow row, int assembly) => new(row.Run, row.Bench, row.TestedBy, row.At, row.Relief,
        row.OilMilliCelsius / 1000m, row.OilGrade, row.Leakage, row.Noise,
            row.PressureClass.Code, row.Verdict, row.Reasons, row.Assembly == assembly,
            [.. row.Readings.OrderBy(reading => reading.Rpm)
            .Select(reading => new MeasuredFlow(reading.Rpm, reading.Flow.Microlitres / 1e6))],
            JsonSerializer.Deserialize<List<ExpectedFlow>>(row.Expected, ShopJson.Options)!);
    }

    public sealed class Handler(JobDesk desk, CheckDesk checks) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var found = await desk.Job(query.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            return new Answer(job.Number, await checks.Checks(job, cancellation), [.. (await checks.Runs(job.Id, cancellation))
                .Select(row => Run.Of(row, job.Assembly))]);
        }
    }
}
