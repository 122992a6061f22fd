using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Stock;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>From the accepted list to the shelf, to the bench, and what comes back.</summary>
public abstract class PullSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task The_pull_list_walks_past_the_bins_and_every_wrong_scan_is_told_what_to_fetch_instead()
    {
        await Receive("80-RSL", 1, "A-01", "LATE", "2032-01-01");
        await Receive("80-RSL", 1, "B-01", "SOON", "2031-06-01");
        await Listed("{ position: 7, finding: WORN }, { position: 8, finding: MISSING }");
        Assert.Equal(["A-02 50-BOLT  4 False", "B-01 80-RSL SOON 1 False", "B-01 40-SPR  1 False"], await Stops());
        await Do("reserveList(job: \"J-1\")", "job missing { part }");
        await Refused("NOTHING_TO_DO", "reserveList(job: \"J-1\")", "job");
        Assert.Equal(["A-02 50-BOLT  4 True", "B-01 80-RSL SOON 1 True", "B-01 40-SPR  1 True"], await Stops());

        Assert.Contains("Fetch instead: 4 of 50-BOLT from A-02.",
            await Refused("WRONG_PART", "pullForJob(job: \"J-1\", scan: \"51-BOLT\")"), StringComparison.Ordinal);
        Assert.Contains("Fetch instead: 4 of 50-BOLT from A-02.", await Refused("UNKNOWN_PART", "pullForJob(job: \"J-1\", scan: \"99\")"),
            StringComparison.Ordinal);
        Assert.Contains("41-SPR is P070", await Refused("OTHER_CLASS", "pullForJob(job: \"J-1\", scan: \"41-SPR\")"),
            StringComparison.Ordinal);
        Assert.Contains("91-ASM is P070", await Refused("OTHER_CLASS", "pullForJob(job: \"J-1\", scan: \"91-ASM\", lot: \"X\")"),
            StringComparison.Ordinal);
        Assert.Contains("Fetch instead: 1 of 80-RSL from B-01, lot SOON (expires 2031-06-01).",
            await Refused("WRONG_LOT", "pullForJob(job: \"J-1\", scan: \"80-RSL\", lot: \"LATE\")"), StringComparison.Ordinal);
        await Refused("LOT_MISSING", "pullForJob(job: \"J-1\", scan: \"80-RSL\")");
        await Refused("PULL_TOO_MANY", "pullForJob(job: \"J-1\", scan: \"50-BOLT\", quantity: 5)");

        Assert.StartsWith("1 of 50-BOLT", await Next("pullForJob(job: \"J-1\", scan: \"50 bolt\", quantity: 3)"), StringComparison.Ordinal);
        await Do("pullForJob(job: \"J-1\", scan: \"50-BOLT\")");
        await Do("pullForJob(job: \"J-1\", scan: \"80-RSL\", lot: \"soon\")");
        Assert.Null(await Next("pullForJob(job: \"J-1\", scan: \"40-SPR\")"));
        Assert.Contains("Nothing is left to fetch.", await Refused("WRONG_PART", "pullForJob(job: \"J-1\", scan: \"50-BOLT\")"),
            StringComparison.Ordinal);
        Assert.Equal(["scan both halves of the pair into the pump and count its shims"], await Missing("ASSEMBLE"));
        await Verify();
    }

    [Fact]
    public async Task What_is_not_there_is_a_shortage_and_another_part_may_take_its_place_for_a_reason()
    {
        await Receive("80-RSL", 1, "A-01", "K1");
        await Listed("{ position: 8, finding: MISSING }");
        await Do("reserveForJob(job: \"OTHER\", lines: [{ part: \"50-BOLT\", quantity: 38 }])", "job");
        Assert.Contains("38 for job OTHER", await Refused("NOT_ENOUGH_FREE", "reserveList(job: \"J-1\")", "job"), StringComparison.Ordinal);
        var reserved = await Do("reserveList(job: \"J-1\", rule: AS_FAR_AS_POSSIBLE)", "missing { part quantity heldBy { job } }");
        Assert.Equal("50-BOLT 2 OTHER",
            $"{reserved.GetProperty("missing")[0].GetProperty("part").GetString()} {reserved.GetProperty("missing")[0].GetProperty("quantity").GetDecimal()} "
            + reserved.GetProperty("missing")[0].GetProperty("heldBy")[0].GetProperty("job").GetString());

        await Refused("REASON_MISSING", "putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 2, why: \"\")");
        await Refused("NOT_ON_THE_LIST", "putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 5, why: \"none\")");
        await Refused("OTHER_CLASS", "putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 2, why: \"none\", substitute: \"41-SPR\")");
        await Refused("VALVE_IS_FITTED", "putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 2, why: \"none\", substitute: \"30-VLV\")");
        await Refused("VALVE_IS_FITTED", "putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 2, why: \"none\", substitute: \"90-ASM\")");
        await Refused("SAME_PART", "putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 2, why: \"none\", substitute: \"50.BOLT\")");
        await Do("putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 2, why: \"order late\", substitute: \"51-BOLT\")");
        Assert.Equal(["A-01 80-RSL K1 1 True", "A-02 50-BOLT  2 True", "A-02 51-BOLT  2 False"], await Stops());
        await Do("putShort(job: \"J-1\", part: \"50-BOLT\", quantity: 1, why: \"one hole is blind\")");
        Assert.Equal(["A-01 80-RSL K1 1 True", "A-02 50-BOLT  1 True", "A-02 51-BOLT  2 False"], await Stops());
        foreach (var scan in (string[])["scan: \"50-BOLT\"", "scan: \"51-BOLT\"",
            "scan: \"80-RSL\", lot: \"K1\""]) await Do($"pullForJob(job: \"J-1\", {scan})");
        Assert.Empty(await Stops());
        await Do("giveBack(job: \"J-1\", part: \"51-BOLT\", quantity: 1, to: \"A-02\")");
        Assert.Equal(["A-02 51-BOLT  1 False"], await Stops());
        await Verify();
    }

    [Fact]
    public async Task Surplus_out_of_packs_goes_back_as_loose_parts_that_name_the_pack_and_what_is_never_sold_alone_stays_with_the_kit()
    {
        await Receive("80-RSL", 1, "A-01", "K1", "2031-09-01");
        await Listed("");
        await Refused("NOTHING_TO_DO", "returnSurplus(job: \"J-1\", to: \"A-02\")");
        await Do("pullForJob(job: \"J-1\", scan: \"80-RSL\", lot: \"K1\")");
        await Refused("A_QUARANTINE_PLACE", "returnSurplus(job: \"J-1\", to: \"Q-01\")");
        var lines = (await Do("returnSurplus(job: \"J-1\", to: \"A-02\")", "lines { part quantity lot packLot }")).GetProperty("lines")
            .EnumerateArray()
            .Select(line => $"{line.GetProperty("part").GetString()} {line.GetProperty("quantity").GetDecimal()} {line.GetProperty("packLot").GetString()} {line.GetProperty("lot").GetString() ?? "kept"}");
        Assert.Equal(["10-CAP 1 K1 kept", "10-RING 2 K1 80-RSL K1"], lines);
        await Refused("NOTHING_TO_DO", "returnSurplus(job: \"J-1\", to: \"A-02\")");
        await Refused("PACK_OPENED", "giveBack(job: \"J-1\", part: \"80-RSL\", quantity: 1, to: \"A-01\", lot: \"K1\")");

        // Two rings more on the shelf, worth nothing: the job has paid for the pack.
        var (onHand, worth, posted) = await Store.With(async db => (
            (await db.StockBalances.Where(row => row.Part.Number == "10-RING").ToListAsync()).Sum(row => row.OnHand.Thousandths) / 1000,
            (await db.StockParts.SingleAsync(row => row.Part.Number == "10-RING")).Value.ToDecimal(),
            (await db.StockLines.Where(row => row.Part.Number == "10-RING" && row.Outside == OutsideWorld.Job).ToListAsync())
                .Sum(row => row.Quantity.Thousandths) / 1000));
        Assert.Equal((22, 10m, -2), (onHand, worth, posted));
        Assert.Empty(await Missing("CALL_OFF"));
        await Verify();
    }

    [Fact]
    public async Task Of_a_pair_both_halves_are_scanned_or_nothing_is_booked()
    {
        foreach (var number in (string[])["8", "9"]) await TornDownCore(number);
        await Measure("AG-1", "H-9", "15.8764;15.8765", "V-9", "15.8620;15.8621");
        await Do("releasePair(pair: \"P-9\")");
        await TornDownCore("1");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\", prefer: STOCK)");
        await Receive("80-RSL", 1, "A-01", "K1");
        await Do("recordFindings(job: \"J-1\", findings: [{ position: 6, finding: DAMAGED }])");
        await AcceptList("J-1");
        Assert.Contains("A-01 P-9: H-9 and V-9  1 True", await Stops());
        Assert.Equal("KEPT_FOR_JOB", (await Payload("keepPairForJob(pair: \"P-9\", job: \"J-2\", pressureClass: \"P055\")", "done"))
            .GetProperty("refusals")[0].GetProperty("code").GetString());
        Assert.Contains("Fetch V-9 with it from A-01 and scan both.",
            await Refused("HALF_OF_A_PAIR", "pullForJob(job: \"J-1\", scan: \"H-9\")"), StringComparison.Ordinal);
        await Refused("HALF_OF_A_PAIR", "pullForJob(job: \"J-1\", scan: \"H-9\", with: \"V-8\")");
        Assert.Contains("Fetch pair P-9 from A-01", await Refused("WRONG_PART", "pullForJob(job: \"J-1\", scan: \"H-8\", with: \"V-8\")"),
            StringComparison.Ordinal);
        await Do("pullForJob(job: \"J-1\", scan: \"V-9\", with: \"h-9\")");
        await Verify();
    }

    /// <summary>A reseal job for its own core, with findings, up to its accepted list.</summary>
    private async Task Listed(string findings)
    {
        await TornDownCore("1");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\", prefer: STOCK)");
        await Do($"recordFindings(job: \"J-1\", findings: [{findings}])");
        await AcceptList("J-1");
    }

    private async Task<string[]> Stops() => [.. (await Ask("pullList(number: \"J-1\") { stops { place what lot quantity reserved } }"))
        .GetProperty("stops").EnumerateArray()
        .Select(stop => FormattableString.Invariant($"{stop.GetProperty("place").GetString()} {stop.GetProperty("what").GetString()} {stop.GetProperty("lot").GetString()} {stop.GetProperty("quantity").GetDecimal()} {stop.GetProperty("reserved").GetBoolean()}"))];

    private async Task<string?> Next(string act) => (await Do(act, "next")).GetProperty("next").GetString();

    private async Task<string[]> Missing(string step) => Texts((await Ask("job(number: \"J-1\") { next { step missing } }"))
        .GetProperty("next")
        .EnumerateArray().Single(next => next.GetProperty("step").GetString() == step).GetProperty("missing"));
}

public sealed class PullOnSqlite(SqliteStore store) : PullSpecification<SqliteStore>(store);

public sealed class PullOnPostgreSql(PostgreSqlStore store) : PullSpecification<PostgreSqlStore>(store);

public sealed class PullOnSqlServer(SqlServerStore store) : PullSpecification<SqlServerStore>(store);
