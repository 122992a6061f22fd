using System.Diagnostics;
using System.Diagnostics.Metrics;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>
/// A trace and a duration of every request that the dispatcher is sent: which use case, by which door, what became of it. Never what was asked,
/// by whom, or anything typed. Sent somewhere only where the environment says where; see docs/operations.md.
/// </summary>
public static class Telemetry
{
    public const string Name = "PartsLedger";
    public const string Duration = "partsledger.request.duration";
    public const string Request = "partsledger.request";
    public const string By = "partsledger.way";
    public const string Became = "partsledger.outcome";

    private static readonly ActivitySource Source = new(Name);
    private static readonly Meter Meter = new(Name);
    private static readonly Histogram<double> Durations = Meter.CreateHistogram<double>(Duration, "s", "How long a request took, from the door to its answer.");

    // The standard's own names: any of them says that telemetry is wanted.
    private static readonly string[] Wanted =
        ["OTEL_EXPORTER_OTLP_ENDPOINT", "OTEL_EXPORTER_OTLP_TRACES_ENDPOINT", "OTEL_EXPORTER_OTLP_METRICS_ENDPOINT"];

    public static void AddTelemetry(this IServiceCollection services)
    {
        if (!Wanted.Any(name => Environment.GetEnvironmentVariable(name) is { Length: > 0 })) return;
        services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.AddService("partsledger"))
            // The web server's own, which is not sent, surrounds each of ours and would otherwise decide that ours is not either.
            .WithTracing(traces => traces.AddSource(Name).SetSampler(new AlwaysOnSampler()).AddOtlpExporter())
            .WithMetrics(metrics => metrics.AddMeter(Name, "Microsoft.AspNetCore.Hosting", "Microsoft.AspNetCore.Server.Kestrel", "System.Runtime").AddOtlpExporter());
    }

    /// <summary>Sends a request and tells what became of it: <c>done</c>, a refusal's code, <c>given-up</c> or <c>failed</c>.</summary>
    public static async Task<Outcome<TAnswer>> Watch<TRequest, TAnswer>(Caller caller, Func<Task<Outcome<TAnswer>>> send) where TAnswer : notnull
    {
        var (name, way, became, began) = (UseCase.Of(typeof(TRequest)), Words.Of(caller.Way), "failed", Stopwatch.GetTimestamp());
        using var activity = Source.StartActivity(name);
        try
        {
            var outcome = await send();
            became = outcome.Succeeded ? "done" : outcome.Refusal.Code;
            return outcome;
        }
        catch (OperationCanceledException)
        {
            became = "given-up";
            throw;
        }
        finally
        {
            activity?.SetTag(Request, name).SetTag(By, way).SetTag(Became, became);
            if (became == "failed") activity?.SetStatus(ActivityStatusCode.Error);
            Durations.Record(Stopwatch.GetElapsedTime(began).TotalSeconds, new(Request, name), new(By, way), new(Became, became));
        }
    }
}
