using System.Text.Json;
using GraphQL;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>Speaks to the shop of <see cref="JobShop"/> through GraphQL and nothing else.</summary>
public abstract class WorkSpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    protected static readonly Caller Bench = new("rebuilder", Role.Counter, Role.Warehouse, Role.Rebuilder);
    protected static readonly Caller Supervisor = new("supervisor", Role.Supervisor);

    private ServiceProvider? _services;
    private int _requests;

    private ServiceProvider Services => _services ?? throw new InvalidOperationException("The shop is not open.");

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        _services = new ServiceCollection().AddLogging().AddPartsLedger(Store.Address).AddShopGraphQl(new())
            .AddSingleton<TimeProvider>(Store.Clock).BuildServiceProvider();
        _services.PrepareGraphQl();
        await Prepare();
        await JobShop.Fill(Store);
    }

    /// <summary>What the shop settles before its first stock is booked.</summary>
    protected virtual Task Prepare() => Task.CompletedTask;

    public override async ValueTask DisposeAsync()
    {
        if (_services is not null) await _services.DisposeAsync();
        await base.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    /// <summary>The whole answer of one document.</summary>
    protected async Task<JsonElement> Send(string document, Caller? caller = null)
    {
        var result = await Services.GetRequiredService<GraphQlEndpoint>().Answer(document, Inputs.Empty, caller ?? Bench,
            CancellationToken.None);
        return JsonDocument.Parse(Services.GetRequiredService<IGraphQLTextSerializer>().Serialize(result)).RootElement;
    }

    /// <summary>A question's one field.</summary>
    protected async Task<JsonElement> Ask(string field)
    {
        var answer = await Send($"{{ {field} }}");
        Assert.False(answer.TryGetProperty("errors", out var errors), $"{field}: {errors}");
        return answer.GetProperty("data").EnumerateObject().Single().Value;
    }

    protected async Task<string> AskRefused(string field) =>
        (await Send($"{{ {field} }}")).GetProperty("errors")[0].GetProperty("extensions").GetProperty("code").GetString()!;

    /// <summary>An act that is done: its result. A request id is put in where the arguments begin.</summary>
    protected async Task<JsonElement> Do(string act, string result = "done", Caller? caller = null)
    {
        var payload = await Payload(act, result, caller);
        Assert.True(payload.GetProperty("refusals").GetArrayLength() == 0, $"{act}: {payload}");
        return payload.GetProperty("result");
    }

    /// <summary>An act that is refused with this code: its sentence and what to do.</summary>
    protected async Task<string> Refused(string code, string act, string result = "done", Caller? caller = null)
    {
        var payload = await Payload(act, result, caller);
        Assert.True(payload.GetProperty("refusals").GetArrayLength() == 1, $"{act} was to be refused as {code}: {payload}");
        var refusal = payload.GetProperty("refusals")[0];
        Assert.True(code == refusal.GetProperty("code").GetString(), $"{act}: {refusal}");
        return $"{refusal.GetProperty("sentence").GetString()} {refusal.GetProperty("whatToDo").GetString()}";
    }

    protected async Task<JsonElement> Payload(string act, string result = "done", Caller? caller = null)
    {
        var (name, rest) = (act[..act.IndexOf('(', StringComparison.Ordinal)], act[(act.IndexOf('(', StringComparison.Ordinal) + 1)..]);
        var document = $"mutation {{ {name}(requestId: \"r-{Interlocked.Increment(ref _requests)}\", {rest} {{ result {{ {result} }} refusals {{ code sentence whatToDo }} }} }}";
        var answer = await Send(document, caller);
        Assert.False(answer.TryGetProperty("errors", out var errors), $"{act}: {errors}");
        return answer.GetProperty("data").GetProperty(name);
    }

    protected async Task Receive(string part, int pieces, string place, string? lot = null, string? expires = null) => await Do(
        $"receiveStock(document: \"DN 1\", lines: [{{ part: \"{part}\", quantity: {pieces}, location: \"{place}\"{Given("lot", lot)}{Given("expiresOn", expires)} }}])", "transaction");

    /// <summary>A core taken in, graded and torn down: its halves H-n and V-n are the pair P-n, with three shims of 1.2 mm.</summary>
    protected async Task TornDownCore(string number, string variant = "VS30-055")
    {
        await Do($"takeInCore(tag: \"C-{number}\", variant: \"{variant}\", receivedFrom: \"Riverside Lifts\")");
        await Do($"gradeCore(core: \"C-{number}\", grade: WORN, findings: [])");
        await Do($"tearDownCore(core: \"C-{number}\", location: \"A-01\", pair: \"P-{number}\", housing: {{ tag: \"H-{number}\", part: \"30-HSG\" }}, "
            + $"valve: {{ tag: \"V-{number}\", part: \"30-VLV\", shimCount: 3, shimStackMm: 1.2 }})");
    }

    /// <summary>Bores and spools measured with one gauge: a tag and its readings, in turn.</summary>
    protected async Task Measure(string gauge, params string[] tagsAndReadings)
    {
        Store.Clock.Advance(TimeSpan.FromMinutes(1));
        var lines = tagsAndReadings.Chunk(2)
            .Select(line => $"{{ unit: \"{line[0]}\", gauge: \"{gauge}\", temperatureC: 20, readings: \"{line[1]}\" }}");
        await Do($"recordMeasurements(lines: [{string.Join(", ", lines)}])", "units { tag }");
    }

    /// <summary>The list that the job would accept now is accepted.</summary>
    protected async Task<int> AcceptList(string job, string? why = null)
    {
        var mark = (await Ask($"jobList(number: \"{job}\") {{ mark }}")).GetProperty("mark").GetString();
        return (await Do($"acceptList(job: \"{job}\", mark: \"{mark}\"{Given("why", why)})", "revision")).GetProperty("revision")
            .GetInt32();
    }

    /// <summary>Every rule that must always hold, holds.</summary>
    protected async Task Verify()
    {
        var verified = await Store.Dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(Full: true), CancellationToken.None);
        Assert.True(verified.Succeeded, verified.Refusal?.ToString());
        Assert.True(verified.Result.Sound, string.Join('\n', verified.Result.Breaches));
    }

    protected static string Given(string name, string? value) => value is null ? "" : $", {name}: \"{value}\"";

    protected static string[] Texts(JsonElement list, string field) =>
        [.. list.EnumerateArray().Select(one => one.GetProperty(field).GetString()!)];

    protected static string[] Texts(JsonElement list) => [.. list.EnumerateArray().Select(one => one.GetString()!)];

    /// <summary>A reseal of core C-1 from intake to release, with one signed check.</summary>
    protected async Task Released(string job)
    {
        await Receive("80-RSL", 1, "A-01", "K1");
        await TornDownCore("1");
        await Do($"startJob(number: \"{job}\", scope: RESEAL, core: \"C-1\", prefer: STOCK, customerReference: \"RL 77\", machine: \"Trawler 9, deck crane\")");
        await Do($"recordFindings(job: \"{job}\", findings: [{{ position: 7, finding: WORN }}])");
        await AcceptList(job);
        await Do($"pullForJob(job: \"{job}\", scan: \"80-RSL\", lot: \"K1\")");
        await Do($"pullForJob(job: \"{job}\", scan: \"40-SPR\")");
        await Do($"fitPairIntoPump(job: \"{job}\", housing: \"H-1\", valve: \"V-1\", shimCount: 3, shimStackMm: 1.2)");
        await Do($"finishAssembly(job: \"{job}\")");
        await Do($"returnSurplus(job: \"{job}\", to: \"A-02\")");
        await Do($"recordCheck(job: \"{job}\", sequence: 10, value: 4.76, unit: \"mm\")", "result");
        await Do($"recordCheck(job: \"{job}\", sequence: 20, value: 5, unit: \"passages\")", "result");
        await Do($"recordCheck(job: \"{job}\", sequence: 30, passed: true)", "result");
        await Do($"signCheck(job: \"{job}\", sequence: 20, why: \"one is cast shut\")", caller: Supervisor);
        await Do($"recordBenchRun(job: \"{job}\", bench: \"B1\", relief: \"798 psi\", oilTemperatureC: 50, noise: \"quiet\", flows: [{{ rpm: 700, flow: \"18.9 l/min\" }}, {{ rpm: 2000, flow: \"15 l/min\" }}])", "run");
        await Do($"releaseJob(job: \"{job}\")");
    }
}
