using System.Text.Json;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>From intake to the accepted kit list.</summary>
public abstract class IntakeSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_job_goes_from_intake_to_its_accepted_list_and_says_what_is_missing_on_the_way()
    {
        await Receive("80-RSL", 2, "A-02", "K1");
        await Do("takeInCore(tag: \"C-1\", family: \"VS30\")");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\", variants: [\"VS30-055\", \"VS30-070\"], machine: \"Trawler\", promisedPrice: 240.5, dueOn: \"2031-04-01\")");
        Assert.Equal(["settle the variant", "tear down core C-1", "record the findings at tear-down"], await Missing("J-1", "ACCEPT_LIST"));
        Assert.Equal("VARIANT_OPEN", await AskRefused("jobList(number: \"J-1\") { mark }"));
        await Refused("JOB_STEP_NOT_POSSIBLE", "recordFindings(job: \"J-1\", findings: [])");

        await Do("settleVariant(job: \"j-1\", variant: \"vs30-055\", why: \"casting mark\")");
        await Do("gradeCore(core: \"C-1\", grade: WORN, findings: [])");
        Assert.Contains("tear down core C-1", await Refused("JOB_STEP_NOT_POSSIBLE", "recordFindings(job: \"J-1\", findings: [])"),
            StringComparison.Ordinal);
        await Do("tearDownCore(core: \"C-1\", location: \"A-01\", pair: \"P-1\", housing: { tag: \"H-1\" }, valve: { tag: \"V-1\", pressureClass: \"P055\", shimCount: 3, shimStackMm: 1.2 })");
        Assert.Contains("6, 7, 8",
            await Refused("UNKNOWN_POSITION", "recordFindings(job: \"J-1\", findings: [{ position: 44, finding: WORN }])"),
            StringComparison.Ordinal);
        await Do("recordFindings(job: \"J-1\", findings: [{ position: 1, finding: WORN }, { position: 7, finding: GOOD }])");
        await Refused("LIST_CHANGED", "acceptList(job: \"J-1\", mark: \"000000000000\")", "done");
        Assert.Equal(1, await AcceptList("J-1"));

        var job = await Ask("job(number: \"J-1\") { listRevision findings { position name finding } list { lines { part quantity } surplus { part quantity } } "
            + "summary { state machine promisedPrice dueOn variant pressureClass core } }");
        Assert.Equal("LIST_ACCEPTED", job.GetProperty("summary").GetProperty("state").GetString());
        Assert.Equal(240.5m, job.GetProperty("summary").GetProperty("promisedPrice").GetDecimal());
        Assert.Equal(["80-RSL"], Lines(job.GetProperty("list").GetProperty("lines")));
        Assert.Equal("Shaft seal", job.GetProperty("findings")[0].GetProperty("name").GetString());
        Assert.Equal(["J-1"], Texts((await Ask("jobs(states: [LIST_ACCEPTED]) { nodes { number } }")).GetProperty("nodes"), "number"));
        Assert.Empty(Texts((await Ask("jobs(states: [TAKEN_IN, RELEASED]) { nodes { number } }")).GetProperty("nodes"), "number"));
        await Verify();
    }

    [Fact]
    public async Task A_changed_finding_shows_what_changes_in_list_and_reservations_before_it_is_accepted()
    {
        await Receive("80-RSL", 1, "A-02", "K1");
        await Receive("80-ELM", 1, "A-02", "E1");
        await TornDownCore("1");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\")");
        await Do("recordFindings(job: \"J-1\", findings: [{ position: 3, finding: WORN }, { position: 7, finding: DAMAGED }])");
        await AcceptList("J-1");
        await Do("reserveForJob(job: \"J-1\", lines: [{ part: \"80-RSL\", quantity: 1 }, { part: \"80-ELM\", quantity: 1 }, { part: \"40-SPR\", quantity: 1 }])", "job");

        await Do("recordFindings(job: \"J-1\", findings: [{ position: 3, finding: GOOD }, { position: 8, finding: MISSING }])");
        var shown = await Ask("jobList(number: \"J-1\") { isAccepted accepted changes { part before after toFree toReserve toGiveBack } }");
        Assert.False(shown.GetProperty("isAccepted").GetBoolean());
        Assert.Equal(["50-BOLT 0>4 free 0 reserve 4 back 0", "80-ELM 1>0 free 1 reserve 0 back 0"], shown.GetProperty("changes")
            .EnumerateArray().Select(change =>
            $"{change.GetProperty("part").GetString()} {Number(change, "before")}>{Number(change, "after")} free {Number(change, "toFree")} reserve {Number(change, "toReserve")} back {Number(change, "toGiveBack")}"));
        Assert.Equal(["40-SPR", "80-ELM", "80-RSL"], await Reserved("J-1"));

        Assert.Equal(2, await AcceptList("J-1"));
        Assert.Equal(["40-SPR", "80-RSL"], await Reserved("J-1"));
        Assert.True((await Ask("jobList(number: \"J-1\") { isAccepted }")).GetProperty("isAccepted").GetBoolean());
        await Verify();
    }

    [Fact]
    public async Task What_a_job_has_is_available_to_it_and_to_no_other()
    {
        await Receive("80-RSL", 1, "A-02", "K1");
        foreach (var number in (string[])["1", "2"])
        {
            await TornDownCore(number);
            await Do($"startJob(number: \"J-{number}\", scope: RESEAL, core: \"C-{number}\")");
            await Do($"recordFindings(job: \"J-{number}\", findings: [])");
        }
        await AcceptList("J-1");
        await Do("pullStock(job: \"J-1\", part: \"80-RSL\", quantity: 1)", "job");
        Assert.Equal(0, await Short("J-1"));
        Assert.Equal(1, await Short("J-2"));
        Assert.Contains("give back 1 of 80-RSL (lot K1)",
            await Refused("JOB_STEP_NOT_POSSIBLE", "callOffJob(job: \"J-1\", why: \"customer\")"), StringComparison.Ordinal);
        await Do("returnFromJob(job: \"J-1\", part: \"80-RSL\", quantity: 1, to: \"A-02\", lot: \"K1\")", "transaction");
        await Do("callOffJob(job: \"J-1\", why: \"customer\")");
        await Refused("CALLED_OFF", "recordFindings(job: \"J-1\", findings: [])");
        Assert.Equal(0, await Short("J-2"));
        await Verify();
    }

    [Theory]
    [InlineData("startJob(number: \"J-1\", scope: FULL)", "UNIT_MISSING")]
    [InlineData("startJob(number: \"\", scope: FULL, exchange: true)", "NAME_MISSING")]
    [InlineData("startJob(number: \"J-9\", scope: FULL, exchange: true)", "JOB_EXISTS")]
    [InlineData("startJob(number: \"J-1\", scope: FULL, core: \"C-7\")", "UNKNOWN_CORE")]
    [InlineData("startJob(number: \"J-1\", scope: FULL, core: \"C-1\")", "CORE_IN_JOB")]
    [InlineData("startJob(number: \"J-1\", scope: FULL, exchange: true, variants: [\"VS30-056\"])", "UNKNOWN_VARIANT")]
    [InlineData("startJob(number: \"J-1\", scope: FULL, exchange: true, dueOn: \"2031-03-11\")", "DATE_PAST")]
    [InlineData("startJob(number: \"J-1\", scope: FULL, exchange: true, promisedPrice: -1)", "COST_OUT_OF_RANGE")]
    [InlineData("settleVariant(job: \"J-9\", variant: \"VS30-070\")", "OTHER_VARIANT")]
    [InlineData("settleVariant(job: \"J-8\", variant: \"VS30-070\")", "UNKNOWN_JOB")]
    [InlineData("recordFindings(job: \"J-9\", findings: [{ position: 1, finding: GOOD }, { position: 1, finding: WORN }])",
        "POSITION_TWICE")]
    [InlineData("callOffJob(job: \"J-9\", why: \"\")", "REASON_MISSING")]
    public async Task What_cannot_be_is_refused(string act, string code)
    {
        await TornDownCore("1");
        await Do("startJob(number: \"j-9\", scope: RESEAL, core: \"C-1\")");
        await Refused(code, act);
        await Verify();
    }

    private async Task<string[]> Missing(string job, string step) =>
        Texts((await Ask($"job(number: \"{job}\") {{ next {{ step missing }} }}")).GetProperty("next")
        .EnumerateArray().Single(next => next.GetProperty("step").GetString() == step).GetProperty("missing"));

    private async Task<int> Short(string job) => (await Ask($"jobList(number: \"{job}\") {{ list {{ piecesShort }} }}")).GetProperty("list")
        .GetProperty("piecesShort").GetInt32();

    private async Task<string[]> Reserved(string job) => Texts((await Ask($"job(number: \"{job}\") {{ reserved {{ part }} }}"))
        .GetProperty("reserved"), "part");

    private static string[] Lines(JsonElement lines) => Texts(lines, "part");

    private static decimal Number(JsonElement of, string field) => of.GetProperty(field).GetDecimal();
}

public sealed class IntakeOnSqlite(SqliteStore store) : IntakeSpecification<SqliteStore>(store);

public sealed class IntakeOnPostgreSql(PostgreSqlStore store) : IntakeSpecification<PostgreSqlStore>(store);

public sealed class IntakeOnSqlServer(SqlServerStore store) : IntakeSpecification<SqlServerStore>(store);
