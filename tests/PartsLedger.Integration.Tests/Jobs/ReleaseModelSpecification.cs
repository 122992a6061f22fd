using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>
/// Random acts on jobs, pairs, shims, parts and checks, over the API as rebuilder and as supervisor. Whatever was accepted: no released
/// job has a part or a bench result of another class, a pair that was split, shims other than those found, or a failed or skipped check
/// without a signature.
/// </summary>
public abstract class ReleaseModelSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    private static readonly int Acts = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_RELEASE_ACTS"), out var acts) ? acts
        : 600;
    private static readonly int Seed = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_SEED"), out var seed) ? seed
        : Random.Shared.Next();

    private readonly Dictionary<string, (int Count, long Stack)> _found = [];

    [Fact]
    public async Task No_job_is_released_with_a_wrong_class_a_split_pair_changed_shims_or_an_unsigned_failed_check()
    {
        TestContext.Current.TestOutputHelper?.WriteLine($"PARTSLEDGER_SEED={Seed}");
        var random = new Random(Seed);
        await Receive("80-RSL", 500, "A-02", "K1");
        await Receive("41-SPR", 100, "B-01");
        var (job, done, refused) = (0, 0, 0);
        for (var act = 0; act < Acts; act++)
        {
            if (job == 0 || random.Next(12) == 0) await Begin(++job);
            var number = $"{random.Next(Math.Max(1, job - 1), job + 1)}";
            if (random.Next(4) > 0 ? await Forward(number, random) : await Mischief(number, random)) done++;
            else refused++;
            if (act % 25 == 0) await ReleasedAreRight();
        }
        await ReleasedAreRight();
        await Verify();
        var gone = await Store.With(db => db.Jobs.CountAsync(row => row.State == JobState.Released));
        TestContext.Current.TestOutputHelper?.WriteLine($"{gone} of {job} jobs were released; {done} acts done, {refused} refused.");
        Assert.True(gone > 0, $"No job was released in {Acts} acts (seed {Seed}).");
        Assert.True(refused > 0);
    }

    [Fact]
    public async Task Nor_when_four_work_on_the_same_jobs_at_once()
    {
        TestContext.Current.TestOutputHelper?.WriteLine($"PARTSLEDGER_SEED={Seed}");
        await Receive("80-RSL", 500, "A-02", "K1");
        await Receive("41-SPR", 100, "B-01");
        var (job, done) = (0, 0);
        for (var round = 0; round < Acts / 60; round++)
        {
            await Begin(++job);
            await Begin(++job);
            var from = job - 1;
            await Task.WhenAll(Enumerable.Range(0, 4).Select(worker => Task.Run(async () =>
            {
                var random = new Random(unchecked(Seed + 1_000 * round + worker));
                for (var act = 0; act < 15; act++)
                {
                    var number = $"{random.Next(from, from + 2)}";
                    if (random.Next(10) > 0 ? await Forward(number, random) : await Mischief(number, random)) Interlocked.Increment(ref done);
                }
            })));
            await ReleasedAreRight();
        }
        await Verify();
        var gone = await Store.With(db => db.Jobs.CountAsync(row => row.State == JobState.Released));
        TestContext.Current.TestOutputHelper?.WriteLine($"{gone} of {job} jobs were released; {done} acts done.");
        Assert.True(gone > 0, $"No job was released by four at once (seed {Seed}).");
    }

    private async Task Begin(int number)
    {
        await TornDownCore($"{number}");
        _found[$"V-{number}"] = (3, 1_200_000);
        await Do($"startJob(number: \"J-{number}\", scope: RESEAL, core: \"C-{number}\", prefer: STOCK)");
        await Do($"recordFindings(job: \"J-{number}\", findings: [])");
        await AcceptList($"J-{number}");
    }

    /// <summary>The next sensible steps, most often done well.</summary>
    private async Task<bool> Forward(string n, Random random)
    {
        var state = (await Ask($"job(number: \"J-{n}\") {{ summary {{ state }} }}")).GetProperty("summary").GetProperty("state")
            .GetString();
        switch (state)
        {
            case "TORN_DOWN":
                var mark = (await Ask($"jobList(number: \"J-{n}\") {{ mark }}")).GetProperty("mark").GetString();
                return await Tried($"acceptList(job: \"J-{n}\", mark: \"{mark}\")");
            case "LIST_ACCEPTED":
                foreach (var scan in (string[])["scan: \"80-RSL\", lot: \"K1\"",
                    "scan: \"40-SPR\""]) await Tried($"pullForJob(job: \"J-{n}\", {scan})");
                var (valve, shims) = (random.Next(8) == 0 ? "1" : n, random.Next(8) == 0 ? "2, shimStackMm: 0.8" : "3, shimStackMm: 1.2");
                await Tried($"fitPairIntoPump(job: \"J-{n}\", housing: \"H-{n}\", valve: \"V-{valve}\", shimCount: {shims})");
                return await Tried($"finishAssembly(job: \"J-{n}\")");
            case "ASSEMBLED":
                await Checks(n, random);
                return await Tried($"recordBenchRun(job: \"J-{n}\", bench: \"B1\", relief: \"{(random.Next(4) > 0 ? 55 : random.Next(2) == 0 ? 70 : 40)} bar\", "
                    + "oilTemperatureC: 50, flows: [{ rpm: 700, flow: \"18.9 l/min\" }, { rpm: 2000, flow: \"15 l/min\" }])");
            case "TESTED":
                if (random.Next(3) == 0) await Checks(n, random);
                await Tried($"returnSurplus(job: \"J-{n}\", to: \"A-01\")");
                return await Tried($"releaseJob(job: \"J-{n}\")");
            default:
                return await Tried($"releaseJob(job: \"J-{n}\")");
        }
    }

    private async Task Checks(string n, Random random)
    {
        bool Good() => random.Next(4) > 0;
        await Tried($"recordCheck(job: \"J-{n}\", sequence: 10, value: {(Good() ? "4.7" : "5.5")}, unit: \"mm\")");
        await Tried($"recordCheck(job: \"J-{n}\", sequence: 20, value: {(Good() ? 6 : 5)}, unit: \"passages\")");
        await Tried($"recordCheck(job: \"J-{n}\", sequence: 30, {(Good() ? "passed: true" : "skippedWhy: \"no time\"")})");
        for (var sequence = 10; sequence <= 30; sequence += 10)
            if (random.Next(3) == 0) await Tried($"signCheck(job: \"J-{n}\", sequence: {sequence}, why: \"looked\")", random.Next(2) == 0
                ? Supervisor : Bench);
    }

    /// <summary>What goes wrong in a shop, by mistake or on purpose, through every door there is.</summary>
    private async Task<bool> Mischief(string n, Random random)
    {
        switch (random.Next(9))
        {
            case 0: return await Tried($"pullStock(job: \"J-{n}\", part: \"41-SPR\", quantity: 1)", field: "job");
            case 1: return await Tried($"returnFromJob(job: \"J-{n}\", part: \"41-SPR\", quantity: 1, to: \"B-01\")", field: "transaction");
            case 2: return await Tried($"keepPairForJob(pair: \"P-{n}\", job: \"J-{n}\", pressureClass: \"P055\", letGo: true)");
            case 3: return await Tried($"takePairApart(pair: \"P-{n}\", location: \"Q-01\", why: \"random\")", Supervisor);
            case 4: return await Tried($"reRateValve(valve: \"V-{n}\", newClass: \"P070\", reliefKpa: 7000, bench: \"B1\", shimCount: 4, shimStackMm: 1.6, why: \"random\")", Supervisor);
            case 5: return await Tried($"keepPairForJob(pair: \"P-{n}\", job: \"OTHER\", pressureClass: \"P055\")");
            case 6: return await Tried($"openAgain(job: \"J-{n}\", why: \"random\")", Supervisor);
            case 7: return await Tried($"recordFindings(job: \"J-{n}\", findings: [{{ position: 7, finding: {(random.Next(2) == 0 ? "WORN" : "GOOD")} }}])");
            default: return await Tried($"returnFromJob(job: \"J-{n}\", part: \"80-RSL\", quantity: 1, to: \"A-02\", lot: \"K1\")",
                field: "transaction");
        }
    }

    private async Task<bool> Tried(string act, Caller? caller = null, string field = "done") => (await Payload(act, field, caller))
        .GetProperty("refusals").GetArrayLength() == 0;

    /// <summary>Read from the rows, by none of the rules that let the jobs go.</summary>
    private Task ReleasedAreRight() => Store.With(async db =>
    {
        foreach (var job in await db.Jobs.Include(row => row.Variant!.PressureClass).Include(row => row.Pair!.Halves)
            .Where(row => row.State == JobState.Released).ToListAsync())
        {
            var why = $"job {job.Number} (seed {Seed})";
            var classId = job.Variant!.PressureClassId;

            // Wrong class: the pair, every part that is in the pump, and the last run on the bench.
            Assert.True(job.Pair is { } pair && pair.PressureClassId == classId, why);
            var pulled = await db.StockLines.Where(line => line.Outside == OutsideWorld.Job && line.Part.PressureClassId != null
                && line.Part.PressureClassId != classId
                && (line.Transaction.BelongsToRef == job.NumberKey || line.Transaction.Reverses!.BelongsToRef == job.NumberKey))
                .Select(line => line.Quantity).ToListAsync();
            Assert.True(pulled.Sum(quantity => quantity.Thousandths) <= 0, why);
            var run = await db.BenchRuns.Where(row => row.JobId == job.Id).OrderByDescending(row => row.Run).FirstAsync();
            Assert.True(run.Verdict == BenchVerdict.Passed && run.PressureClassId == classId, why);
            Assert.True(run.Relief >= job.Variant.PressureClass.Relief - job.Variant.PressureClass.Minus
                && run.Relief <= job.Variant.PressureClass.Relief + job.Variant.PressureClass.Plus, why);

            // Split pair: both halves went out, in this one pair.
            Assert.True(job.Pair!.State == PairState.Gone && job.Pair.Halves.Count == 2
                && job.Pair.Halves.TrueForAll(half => half.State == UnitState.Gone), why);

            // Changed shims: as they were recorded when the core was torn down.
            var valve = job.Pair.Halves.Single(half => half.Role == UnitRole.Valve);
            var found = _found[valve.Tag];
            Assert.True((valve.ShimCount, valve.ShimStack?.Nanometres) == (found.Count, found.Stack)
                && job.FittedShimCount == found.Count, why);

            // Checks: each has a result, and the last of each passed or was signed.
            var checks = (await db.JobChecks.Include(row => row.Signature).Where(row => row.JobId == job.Id).OrderBy(row => row.Id)
                .ToListAsync()).GroupBy(row => row.Sequence).Select(group => group.Last()).ToList();
            Assert.True(checks.Count == 3 && checks.TrueForAll(check => check.Result == CheckResult.Passed
                || check.Signature is not null), why);
        }
    });
}

public sealed class ReleaseModelOnSqlite(SqliteStore store) : ReleaseModelSpecification<SqliteStore>(store);

public sealed class ReleaseModelOnPostgreSql(PostgreSqlStore store) : ReleaseModelSpecification<PostgreSqlStore>(store);

public sealed class ReleaseModelOnSqlServer(SqlServerStore store) : ReleaseModelSpecification<SqlServerStore>(store);
