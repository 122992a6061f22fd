using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Fit;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>
/// Three lives from intake to release, through GraphQL only, each checked line by line against the ledger, with every rule verified on the
/// way.
/// </summary>
public abstract class FullLivesSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_reseal_with_everything_in_stock()
    {
        await Receive("80-RSL", 2, "A-02", "K1", "2032-01-01");
        await TornDownCore("1");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\", customerReference: \"RL 77\", machine: \"Trawler\")");
        await Do("recordFindings(job: \"J-1\", findings: [])");
        await AcceptList("J-1");
        await Do("reserveList(job: \"J-1\")", "job");
        await Verify();
        await Do("pullForJob(job: \"J-1\", scan: \"80-RSL\", lot: \"K1\")");
        await Do("fitPairIntoPump(job: \"J-1\", housing: \"H-1\", valve: \"V-1\", shimCount: 3, shimStackMm: 1.2)");
        await Refused("JOB_STEP_NOT_POSSIBLE", "releaseJob(job: \"J-1\")");
        await Do("finishAssembly(job: \"J-1\")");
        await Do("returnSurplus(job: \"J-1\", to: \"A-01\")");
        await Verify();
        await Checked("J-1");
        await OnTheBench("J-1", "55 bar");
        await Do("releaseJob(job: \"J-1\")");
        await Verify();

        Assert.Equal(["pull 80-RSL K1 A-02 -1 -5", "pull 80-RSL K1 JOB 1 5", "surplus 10-RING 80-RSL K1 JOB -2 0",
            "surplus 10-RING 80-RSL K1 A-01 2 0"], await Ledger("J-1"));
        Assert.Contains("is released", await Refused("ALREADY_RELEASED", "releaseJob(job: \"J-1\")"), StringComparison.Ordinal);
        foreach (var act in (string[])["pullStock(job: \"J-1\", part: \"50-BOLT\", quantity: 1)",
            "reserveForJob(job: \"J-1\", lines: [{ part: \"50-BOLT\", quantity: 1 }])"])
            await Refused("ALREADY_RELEASED", act, "job");
        await Refused("ALREADY_RELEASED", "returnFromJob(job: \"J-1\", part: \"80-RSL\", quantity: 1, to: \"A-02\", lot: \"K1\")",
            "transaction");
        foreach (var act in (string[])["giveBack(job: \"J-1\", part: \"80-RSL\", quantity: 1, to: \"A-02\", lot: \"K1\")",
            "callOffJob(job: \"J-1\", why: \"x\")", "openAgain(job: \"J-1\", why: \"x\")"])
            await Refused("ALREADY_RELEASED", act);

        // The pair has gone out with the pump.
        Assert.Equal("PAIR_NOT_TOGETHER", (await Payload("keepPairForJob(pair: \"P-1\", job: \"J-2\", pressureClass: \"P055\")", "done"))
            .GetProperty("refusals")[0].GetProperty("code").GetString());
        foreach (var (tag, kind) in new[] { ("V-1", "valve"), ("P-1", "pair"), ("C-1", "core"), ("j-1", "job") })
        {
            var history = await Ask($"history(tag: \"{tag}\") {{ kind jobs entries(first: 100) {{ nodes {{ about what detail }} pageInfo {{ hasNextPage }} }} }}");
            Assert.Equal(kind, history.GetProperty("kind").GetString());
            Assert.Equal(["J-1"], Texts(history.GetProperty("jobs")));
            var nodes = history.GetProperty("entries").GetProperty("nodes").EnumerateArray()
                .Select(node => $"{node.GetProperty("about").GetString()}: {node.GetProperty("what").GetString()}").ToList();
            foreach (var told in (string[])["pair P-1: fitted", "pair P-1: gone out", "job J-1: bench",
                "job J-1: released"]) Assert.Contains(told, nodes);
            Assert.Equal("job J-1: released", nodes[^1]);
        }
        Assert.Equal("UNKNOWN_TAG", await AskRefused("history(tag: \"NONE-1\") { kind }"));

        // Damage past the program is found: the pair back on the shelf.
        await Store.With(db => db.Pairs.ExecuteUpdateAsync(set => set.SetProperty(pair => pair.State, PairState.Together)));
        var found = await Store.Dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(Full: true), CancellationToken.None);
        Assert.Contains(found.Result.Breaches, breach => breach is { Rule: "RELEASED_JOBS_ARE_RIGHT", Where: "job J-1" });
    }

    [Fact]
    public async Task A_full_rebuild_with_a_condemned_valve_a_pair_from_the_loose_pool_and_a_shortage()
    {
        await Receive("80-RSL", 1, "A-02", "K1");
        await TornDownCore("1");
        foreach (var (number, spool) in new[] { ("2", "15.8750"), ("3", "15.8600") })
        {
            await Do($"takeInCore(tag: \"C-{number}\", variant: \"VS30-055\")");
            await Do($"gradeCore(core: \"C-{number}\", grade: PARTS_ONLY, findings: [])");
            await Do($"tearDownCore(core: \"C-{number}\", location: \"B-01\", valve: {{ tag: \"V-{number}\", part: \"30-VLV\", shimCount: {number}, shimStackMm: 0.9 }})");
            await Measure("AG-1", $"V-{number}", $"{spool};{spool}");
        }
        await Do("startJob(number: \"J-1\", scope: FULL, core: \"C-1\")");
        await Do("recordFindings(job: \"J-1\", findings: [{ position: 6, finding: DAMAGED, note: \"scored\" }, { position: 5, finding: GOOD }])");

        // The valve is condemned: its pair ends, the housing is measured again and finds another valve.
        await Do("keepPairForJob(pair: \"P-1\", job: \"J-1\", pressureClass: \"P055\", letGo: true)");
        await Do("condemnUnit(tag: \"V-1\", why: \"scored\", otherHalf: \"measured and paired again\", location: \"Q-01\")",
            caller: Supervisor);
        await Measure("AG-1", "H-1", "15.8890;15.8890");
        await Do("releaseUnit(tag: \"H-1\", location: \"A-01\")");
        var proposal = (await Do("holdProposal(family: \"VS30\", ofClass: \"P055\")", "proposal proposed { count }"))
            .GetProperty("proposal").GetString();
        await Do($"acceptProposal(proposal: {proposal}, location: \"A-01\")", "pairs { pair housing valve }");
        await Do("releasePair(pair: \"P-H-1\")");
        await Verify();

        var listed = await Ask("jobList(number: \"J-1\") { mark list { complete piecesShort lines { part quantity short } } }");
        Assert.Equal(["40-SPR 1 0", "50-BOLT 4 0", "80-ELM 1 1", "80-RSL 1 0", "P-H-1 1 0"], listed.GetProperty("list").GetProperty("lines")
            .EnumerateArray()
            .Select(line => $"{line.GetProperty("part").GetString()} {line.GetProperty("quantity")} {line.GetProperty("short")}")
            .Order(StringComparer.Ordinal));
        await AcceptList("J-1");
        await Refused("NOT_ENOUGH_FREE", "reserveList(job: \"J-1\")", "job");
        var reserved = await Do("reserveList(job: \"J-1\", rule: AS_FAR_AS_POSSIBLE)", "missing { part quantity }");
        Assert.Equal("80-ELM", Assert.Single(reserved.GetProperty("missing").EnumerateArray()).GetProperty("part").GetString());
        await Receive("80-ELM", 1, "B-01", "E1");
        await Do("reserveList(job: \"J-1\")", "job");
        await Verify();

        await Do("pullForJob(job: \"J-1\", scan: \"H-1\", with: \"V-2\")");
        foreach (var scan in (string[])["scan: \"80-RSL\", lot: \"K1\"", "scan: \"80-ELM\", lot: \"E1\"", "scan: \"40-SPR\"",
            "scan: \"50-BOLT\""]) await Do($"pullForJob(job: \"J-1\", {scan})");
        await Refused("SHIMS_DIFFER", "fitPairIntoPump(job: \"J-1\", housing: \"H-1\", valve: \"V-2\", shimCount: 3, shimStackMm: 1.2)");
        await Do("fitPairIntoPump(job: \"J-1\", housing: \"H-1\", valve: \"V-2\", shimCount: 2, shimStackMm: 0.9)");
        await Do("giveBack(job: \"J-1\", part: \"50-BOLT\", quantity: 1, to: \"A-02\", why: \"one was good\")");
        Assert.Contains("pull 1 of 50-BOLT", await Refused("JOB_STEP_NOT_POSSIBLE", "finishAssembly(job: \"J-1\")"),
            StringComparison.Ordinal);
        await Do("putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 1, why: \"one was good\")");
        await Do("finishAssembly(job: \"J-1\")");
        await Do("returnSurplus(job: \"J-1\", to: \"A-01\")");
        await Checked("J-1");
        await OnTheBench("J-1", "55 bar");
        await Do("releaseJob(job: \"J-1\")");
        await Verify();

        Assert.Equal(
        [
            "pull 80-RSL K1 A-02 -1 -5", "pull 80-RSL K1 JOB 1 5", "pull 80-ELM E1 B-01 -1 -28", "pull 80-ELM E1 JOB 1 28",
                "pull 40-SPR  B-01 -1 -2", "pull 40-SPR  JOB 1 2",
            "pull 50-BOLT  A-02 -4 -0.8", "pull 50-BOLT  JOB 4 0.8", "return 50-BOLT  JOB -1 -0.2", "return 50-BOLT  A-02 1 0.2",
            "surplus 10-RING 80-RSL K1 JOB -2 0", "surplus 10-RING 80-RSL K1 A-01 2 0",
        ], await Ledger("J-1"));
        var hits = await Ask("recall(from: GAUGE, code: \"AG-1\") { jobs { job why } units { tag where } }");
        Assert.Equal("J-1", Assert.Single(hits.GetProperty("jobs").EnumerateArray()).GetProperty("job").GetString());
        Assert.Equal(["H-1 gone out in a pump", "V-2 gone out in a pump", "V-3 B-01"], hits.GetProperty("units").EnumerateArray()
            .Select(unit => $"{unit.GetProperty("tag").GetString()} {unit.GetProperty("where").GetString()}"));
        Assert.Empty((await Ask("recall(from: GAUGE, code: \"AG-2\") { jobs { job } }")).GetProperty("jobs").EnumerateArray());
    }

    [Fact]
    public async Task An_exchange_unit_and_the_customers_core_coming_in()
    {
        await Receive("80-RSL", 1, "A-02", "K1");
        await Receive("90-ASM", 1, "B-01", "M1");
        await Do("startJob(number: \"X-1\", scope: VALVE, exchange: true, variants: [\"VS30-055\"], promisedPrice: 399)");
        await AcceptList("X-1");
        await Do("reserveList(job: \"X-1\")", "job");
        foreach (var scan in (string[])["scan: \"80-RSL\", lot: \"K1\"",
            "scan: \"90-ASM\", lot: \"M1\""]) await Do($"pullForJob(job: \"X-1\", {scan})");
        await Do("finishAssembly(job: \"X-1\")");
        await Do("returnSurplus(job: \"X-1\", to: \"A-01\")");
        await Checked("X-1");
        await Verify();

        await Do("takeInCore(tag: \"C-9\", family: \"VS30\", receivedFrom: \"Moorland\", deposit: 60)");
        await Refused("UNKNOWN_CORE", "bringCore(job: \"X-1\", core: \"C-8\")");
        await Do("bringCore(job: \"X-1\", core: \"C-9\")");
        await Refused("CORE_THERE_ALREADY", "bringCore(job: \"X-1\", core: \"C-9\")");
        await Refused("CORE_IN_JOB", "startJob(number: \"X-2\", scope: FULL, core: \"C-9\")");
        await OnTheBench("X-1", "54 bar");
        await Do("releaseJob(job: \"X-1\")");
        await Do("gradeCore(core: \"C-9\", grade: WORN, findings: [])");
        await Do("settleDeposit(core: \"C-9\", giveBack: true)");
        Assert.Equal(0, (await Ask("coreBank { owed }")).GetProperty("owed").GetDecimal());
        await Verify();

        Assert.Equal(
        [
            "pull 80-RSL K1 A-02 -1 -5", "pull 80-RSL K1 JOB 1 5", "pull 90-ASM M1 B-01 -1 -120", "pull 90-ASM M1 JOB 1 120",
                "surplus 10-RING 80-RSL K1 JOB -2 0",
            "surplus 10-RING 80-RSL K1 A-01 2 0", "surplus 40-SPR 90-ASM M1 JOB -1 0", "surplus 40-SPR 90-ASM M1 A-01 1 0",
        ], await Ledger("X-1"));

        // The assembly's lot is recalled: the pump that went out, and the spring that was left over.
        var recall = await Ask("recall(from: LOT, code: \"M1\", part: \"90-ASM\") { jobs { job state why } stock { part lot place quantity } kits { part } }");
        Assert.Equal("X-1 RELEASED 1 of 90-ASM, lot M1", Assert.Single(recall.GetProperty("jobs").EnumerateArray()
            .Select(job => $"{job.GetProperty("job").GetString()} {job.GetProperty("state").GetString()} {job.GetProperty("why")[0].GetString()}")));
        Assert.Equal("40-SPR 90-ASM M1 A-01 1", Assert.Single(recall.GetProperty("stock").EnumerateArray().Select(hit =>
            $"{hit.GetProperty("part").GetString()} {hit.GetProperty("lot").GetString()} {hit.GetProperty("place").GetString()} {hit.GetProperty("quantity").GetDecimal():0}")));
        Assert.Equal("X-1", Assert.Single((await Ask("recall(from: BENCH, code: \"b1\") { jobs { job } }")).GetProperty("jobs")
            .EnumerateArray()).GetProperty("job").GetString());
        Assert.Equal("X-1", Assert.Single((await Ask("recall(from: PART, code: \"30-VLV\") { jobs { job } }")).GetProperty("jobs")
            .EnumerateArray()).GetProperty("job").GetString());
        foreach (var (question, code) in new[] { ("from: LOT, code: \"M1\"", "PART_MISSING"), ("from: LOT, code: \"M2\", part: \"90-ASM\"",
            "UNKNOWN_LOT"), ("from: PART, code: \"0\"", "UNKNOWN_PART"),
            ("from: GAUGE, code: \"0\"", "UNKNOWN_GAUGE"), ("from: MEASUREMENT, code: \"x\"", "UNKNOWN_MEASUREMENT"),
                ("from: BENCH, code: \"B9\"", "UNKNOWN_BENCH") })
            Assert.Equal(code, await AskRefused($"recall({question}) {{ what }}"));
    }

    private async Task Checked(string job)
    {
        await Do($"recordCheck(job: \"{job}\", sequence: 10, value: 4.76, unit: \"mm\")", "result");
        await Do($"recordCheck(job: \"{job}\", sequence: 20, value: 5, unit: \"passages\")", "result");
        await Do($"recordCheck(job: \"{job}\", sequence: 30, passed: true)", "result");
        await Do($"signCheck(job: \"{job}\", sequence: 20, why: \"one is cast shut\")", caller: Supervisor);
    }

    private async Task OnTheBench(string job, string relief) =>
        Assert.Equal("PASSED", (await Do($"recordBenchRun(job: \"{job}\", bench: \"B1\", relief: \"{relief}\", oilTemperatureC: 50, "
        + "flows: [{ rpm: 700, flow: \"18.9 l/min\" }, { rpm: 2000, flow: \"15 l/min\" }])", "verdict done")).GetProperty("verdict")
            .GetString());

    /// <summary>Every line of the ledger that belongs to the job, of any part, in the order it was written.</summary>
    private async Task<string[]> Ledger(string job)
    {
        var lines = new List<JsonElement>();
        foreach (var part in Texts((await Ask("parts(first: 100) { nodes { number } }")).GetProperty("nodes"), "number"))
            lines.AddRange((await Ask($"movements(part: \"{part}\", job: \"{job}\", first: 100) {{ nodes {{ id act part lot place outside quantity value }} }}"))
                .GetProperty("nodes").EnumerateArray());
        return [.. lines.OrderBy(line => long.Parse(line.GetProperty("id").GetString()!, System.Globalization.CultureInfo.InvariantCulture))
            .Select(Line)];
    }

    private static string Line(JsonElement line) => FormattableString.Invariant(
        $"{line.GetProperty("act").GetString()} {line.GetProperty("part").GetString()} {line.GetProperty("lot").GetString()} {line.GetProperty("place").GetString() ?? line.GetProperty("outside").GetString()} {line.GetProperty("quantity").GetDecimal():0.###} {line.GetProperty("value").GetDecimal():0.####}");
}

public sealed class FullLivesOnSqlite(SqliteStore store) : FullLivesSpecification<SqliteStore>(store);

public sealed class FullLivesOnPostgreSql(PostgreSqlStore store) : FullLivesSpecification<PostgreSqlStore>(store);

public sealed class FullLivesOnSqlServer(SqlServerStore store) : FullLivesSpecification<SqlServerStore>(store);
