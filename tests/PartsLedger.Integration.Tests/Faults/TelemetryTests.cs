using System.Collections.Concurrent;
using System.Diagnostics;
using System.Diagnostics.Metrics;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Kits;

namespace PartsLedger.Integration.Tests.Faults;

/// <summary>What the program tells of its requests to whoever watches it: which, by which door and what became of them, and nothing that was asked.</summary>
public sealed class TelemetryTests : IAsyncLifetime
{
    private readonly SqliteStore _store = new();

    public ValueTask InitializeAsync() => _store.InitializeAsync();

    [Fact]
    public async Task Every_request_is_traced_and_measured_by_its_name_and_outcome_alone()
    {
        var (traces, measured) = (new ConcurrentQueue<Activity>(), new ConcurrentQueue<Dictionary<string, object?>>());
        using var listener = new ActivityListener
        {
            ShouldListenTo = source => source.Name == Telemetry.Name, Sample = (ref ActivityCreationOptions<ActivityContext> _) => ActivitySamplingResult.AllData,
            ActivityStopped = traces.Enqueue,
        };
        ActivitySource.AddActivityListener(listener);
        using var meters = new MeterListener { InstrumentPublished = (instrument, all) => { if (instrument.Name == Telemetry.Duration) all.EnableMeasurementEvents(instrument); } };
        meters.SetMeasurementEventCallback<double>((_, seconds, tags, _) =>
        {
            Assert.InRange(seconds, 0, 600);
            measured.Enqueue(tags.ToArray().ToDictionary(tag => tag.Key, tag => tag.Value));
        });
        meters.Start();
        var asked = await _store.Dispatcher.Ask<KitFor.Query, Domain.Kits.KitAnswer>(
            new("SECRET-77", Domain.Kits.JobScope.Reseal, [], Domain.Kits.KitPreference.Cost), Caller.CommandLine, CancellationToken.None);
        Assert.Equal("UNKNOWN_VARIANT", asked.Refusal?.Code);

        // Other tests ask beside this one: ours is the only refused one of its kind from the command line.
        var expected = new Dictionary<string, object?> { [Telemetry.Request] = "KitFor", [Telemetry.By] = "command", [Telemetry.Became] = "UNKNOWN_VARIANT" };
        Assert.Contains(measured, tags => tags.Count == 3 && expected.All(tag => tags[tag.Key]!.Equals(tag.Value)));
        Assert.Contains(traces, trace => trace.OperationName == "KitFor" && trace.TagObjects.ToDictionary() is { Count: 3 } tags && expected.All(tag => tags[tag.Key]!.Equals(tag.Value)));
        Assert.DoesNotContain(traces, trace => trace.TagObjects.Any(tag => tag.Value is string text && text.Contains("SECRET-77", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task The_program_sends_it_where_the_environment_says_and_nothing_that_was_asked_is_in_it()
    {
        var received = new ConcurrentDictionary<string, StringBuilder>();
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        await using var collector = builder.Build();
        collector.MapPost("/v1/{what}", async (HttpRequest request, string what) =>
        {
            using var body = new MemoryStream();
            await request.Body.CopyToAsync(body);
            var text = received.GetOrAdd(what, _ => new());
            lock (text) text.Append(Encoding.Latin1.GetString(body.ToArray()));
        });
        await collector.StartAsync();
        await using var server = await RunningServer.Start(_store.Address.Database.Scheme, _store.Address.Connection, ("OTEL_EXPORTER_OTLP_ENDPOINT", collector.Urls.First()),
            ("OTEL_EXPORTER_OTLP_PROTOCOL", "http/protobuf"), ("OTEL_BSP_SCHEDULE_DELAY", "200"), ("OTEL_METRIC_EXPORT_INTERVAL", "500"));
        using var http = new HttpClient { BaseAddress = server.Address };
        using var answer = await http.PostAsync("/graphql", new StringContent("""{"query":"{ kitFor(variant: \"SECRET-77\", scope: RESEAL) { variant } }"}""", Encoding.UTF8, "application/json"));
        Assert.Contains("UNKNOWN_VARIANT", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        for (var wait = 0; wait < 300 && !(Told("traces", "KitFor") && Told("metrics", Telemetry.Duration)); wait++) await Task.Delay(100);
        Assert.True(Told("traces", "KitFor") && Told("traces", "UNKNOWN_VARIANT"));
        Assert.True(Told("metrics", Telemetry.Duration));
        Assert.False(Told("traces", "SECRET-77") || Told("metrics", "SECRET-77"));

        bool Told(string what, string text)
        {
            if (!received.TryGetValue(what, out var all)) return false;
            lock (all) return all.ToString().Contains(text, StringComparison.Ordinal);
        }
    }

    public ValueTask DisposeAsync() => _store.DisposeAsync();
}
