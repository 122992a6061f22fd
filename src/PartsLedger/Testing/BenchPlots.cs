using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Testing;

/// <summary>
/// Flow over speed of a run on the bench against what was expected: <c>/plots/bench/JOB.svg</c>, the last run unless <c>?run=N</c>,
/// and before the first what is expected.
/// </summary>
public static class BenchPlots
{
    public static void MapBenchPlots(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/plots/bench/{job}.svg", async (Asking asking, string job, int? run, CancellationToken cancellation) =>
        {
            var answer = await asking.Ask<BenchRuns.Query, BenchRuns.Answer>(new(job), cancellation);
            if (!answer.Succeeded) return Sentence(answer.Refusal);
            var runs = answer.Result.Runs;
            var shown = run is null ? (runs.Count == 0 ? null : runs[^1]) : runs.FirstOrDefault(one => one.Number == run);
            if (shown is null && run is null)
            {
                var expected = await asking.Ask<BenchExpected.Query, BenchExpected.Answer>(new(job), cancellation);
                if (expected is { Succeeded: true, Result: { Flows.Count: > 0 } before })
                    return Results.Text(FlowCurve.Draw("bench", $"Job {before.Job}: flow expected over speed", before.Flows, []), "image/svg+xml; charset=utf-8");
            }
            return shown is null ? Sentence(new Refusal("UNKNOWN_RUN", $"Job {answer.Result.Job} has no such run on the bench.",
                $"It has {runs.Count}."))
                : Results.Text(Draw(answer.Result.Job, shown), "image/svg+xml; charset=utf-8");
        });

    public static string Draw(string job, BenchRuns.Run run) =>
        FlowCurve.Draw("bench", $"Job {job}, run {run.Number} on {run.Bench}: flow over speed", run.Expected, run.Flows);

    private static IResult Sentence(Refusal refusal) => Results.Text($"{refusal}\n", statusCode: StatusCodes.Status404NotFound);
}
