using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Jobs;
using PartsLedger.Kits;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>
/// The recall of a lot is complete and exact: on random histories it names what a walk of the whole ledger, line by line, finds.
/// </summary>
public abstract class RecallSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    private static readonly int Acts = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_RECALL_ACTS"), out var acts) ? acts
        : 250;
    private static readonly int Seed = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_SEED"), out var seed) ? seed
        : Random.Shared.Next();

    private const string Part = "10-SEAL";

    // Two kits of the house: one holds a seal and a ring, the other that kit and a seal.
    private const string House = "80-ELM";
    private const string Outer = "81-OUT";
    private static readonly string[] Lots = ["L1", "L2", "L3", "L4"];

    [Fact]
    public async Task A_lot_is_recalled_from_everywhere_its_pieces_went_and_from_nowhere_else()
    {
        TestContext.Current.TestOutputHelper?.WriteLine($"PARTSLEDGER_SEED={Seed}");
        var random = new Random(Seed);
        foreach (var lot in Lots) await Receive(Part, 30, "A-01", lot);
        await Receive("80-RSL", 3, "A-02", "K1");
        await Do($"defineRecipe(kit: \"{House}\", lines: [{{ part: \"{Part}\", quantity: 1 }}, {{ part: \"10-RING\", quantity: 1 }}], variants: [\"VS30-055\"], scope: RESEAL)",
            "version");
        await Do($"defineRecipe(kit: \"{Outer}\", lines: [{{ part: \"{House}\", quantity: 1 }}, {{ part: \"{Part}\", quantity: 1 }}], variants: [\"VS30-055\"], scope: RESEAL)",
            "version");
        await Receive("10-RING", 500, "A-01");
        var (accepted, split) = (0, 0);
        for (var act = 0; act < Acts; act++)
        {
            if (await Any(random, () => $"S{++split}")) accepted++;
            if (act % 50 != 49) continue;
            foreach (var lot in await Store.With(db => db.Lots.Where(row => row.Part.Number == Part).OrderBy(row => row.Id)
                .Select(row => row.Code).ToListAsync())) await Compare(Part, lot);
        }
        Assert.True(accepted > Acts / 5, $"Only {accepted} acts were accepted (seed {Seed}).");
        foreach (var kit in new[] { House, Outer })
            foreach (var lot in await Store.With(db => db.Lots.Where(row => row.Part.Number == kit).OrderBy(row => row.Id).Select(row => row.Code)
                .Take(10).ToListAsync())) await Compare(kit, lot);
        await Compare("80-RSL", "K1");
        await Compare(Part, null);
        await Verify();
    }

    [Fact]
    public async Task Surplus_out_of_a_recalled_pack_is_found_where_it_went_on_to()
    {
        await Receive("80-RSL", 1, "A-02", "K1");
        await TornDownCore("1");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\", prefer: STOCK)");
        await Do("recordFindings(job: \"J-1\", findings: [])");
        await AcceptList("J-1");
        await Do("pullForJob(job: \"J-1\", scan: \"80-RSL\", lot: \"K1\")");
        await Do("returnSurplus(job: \"J-1\", to: \"A-02\")");
        await Do("pullStock(job: \"LATER\", part: \"10-RING\", quantity: 1, lot: \"80-RSL K1\")", "job");
        await Do("splitLot(part: \"10-RING\", lot: \"80-RSL K1\", place: \"A-02\", quantity: 1, newLot: \"REST\")", "transaction");
        var recall = (await Store.Dispatcher.Ask<Recall.Query, Recall.Answer>(new(RecallFrom.Lot, "K1", "80-RSL"), CancellationToken.None))
            .Result;
        Assert.Equal(["J-1: 1 of 80-RSL, lot K1", "LATER: 1 of 10-RING, lot 80-RSL K1"],
            recall.Jobs.Select(job => $"{job.Job}: {string.Join(", ", job.Why)}"));
        Assert.Equal(["10-RING REST A-02 1"], recall.Stock.Select(hit => $"{hit.Part} {hit.Lot} {hit.Place} {hit.Quantity}"));
    }

    [Fact]
    public async Task Out_of_a_kit_that_holds_a_recalled_lot_only_what_was_bad_is_recalled()
    {
        await Do($"defineRecipe(kit: \"{House}\", lines: [{{ part: \"{Part}\", quantity: 2 }}, {{ part: \"10-RING\", quantity: 6 }}], variants: [\"VS30-055\"], scope: RESEAL)", "version");
        await Receive(Part, 2, "A-01", "L1");
        await Do($"buildKit(kit: \"{House}\", count: 1, to: \"A-02\", lot: \"K1\")", "lot");
        await TornDownCore("1");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\", prefer: STOCK)");
        await Do("recordFindings(job: \"J-1\", findings: [])");
        await AcceptList("J-1");
        await Do($"pullForJob(job: \"J-1\", scan: \"{House}\", lot: \"K1\")");
        await Do("returnSurplus(job: \"J-1\", to: \"A-02\")");
        var recall = (await Store.Dispatcher.Ask<Recall.Query, Recall.Answer>(new(RecallFrom.Lot, "L1", Part), CancellationToken.None)).Result;
        Assert.Equal([$"J-1: 1 of {House}, lot K1"], recall.Jobs.Select(job => $"{job.Job}: {string.Join(", ", job.Why)}"));
        Assert.Equal([$"{Part} {House} K1 A-02 1"], recall.Stock.Select(hit => $"{hit.Part} {hit.Lot} {hit.Place} {hit.Quantity}"));
        var kit = (await Store.Dispatcher.Ask<Recall.Query, Recall.Answer>(new(RecallFrom.Lot, "K1", House), CancellationToken.None)).Result;
        Assert.Equal([$"10-RING {House} K1 A-02 2", $"{Part} {House} K1 A-02 1"], kit.Stock.Select(hit => $"{hit.Part} {hit.Lot} {hit.Place} {hit.Quantity}"));
    }

    [Fact]
    public async Task A_kit_built_when_its_recipe_held_the_part_is_recalled_with_the_part_and_a_later_one_is_not()
    {
        await Receive(Part, 1, "A-01", "L1");
        await Receive("10-RING", 20, "A-01");
        await Recipe($"{{ part: \"{Part}\", quantity: 1 }}, {{ part: \"10-RING\", quantity: 1 }}");
        await Do($"buildKit(kit: \"{House}\", count: 1, to: \"A-02\", lot: \"OLD\")", "lot");
        await Do($"pullStock(job: \"EARLY\", part: \"{House}\", quantity: 1, lot: \"OLD\")", "job");
        await Recipe("{ part: \"10-RING\", quantity: 2 }");
        await Do($"buildKit(kit: \"{House}\", count: 2, to: \"A-02\", lot: \"NEW\")", "lot");
        await Do($"pullStock(job: \"LATE\", part: \"{House}\", quantity: 1, lot: \"NEW\")", "job");

        var seal = (await Store.Dispatcher.Ask<Recall.Query, Recall.Answer>(new(RecallFrom.Part, Part), CancellationToken.None)).Result;
        Assert.Equal([$"EARLY: 1 of {House}, lot OLD"], seal.Jobs.Select(job => $"{job.Job}: {string.Join(", ", job.Why)}"));
        Assert.Empty(seal.Kits);
        var ring = (await Store.Dispatcher.Ask<Recall.Query, Recall.Answer>(new(RecallFrom.Part, "10-RING"), CancellationToken.None)).Result;
        Assert.Equal(["EARLY", "LATE"], ring.Jobs.Select(job => job.Job));
        Assert.Equal([$"{House} NEW A-02 1"], ring.Kits.Select(hit => $"{hit.Part} {hit.Lot} {hit.Place} {hit.Quantity}"));

        async Task Recipe(string lines) => await Do(
            $"defineRecipe(kit: \"{House}\", lines: [{lines}], variants: [\"VS30-055\"], scope: RESEAL)", "version");
    }

    [Fact]
    public async Task A_kit_out_of_a_kit_carries_what_is_bad_in_it_into_the_lot_it_comes_to_lie_in()
    {
        await Receive(Part, 1, "A-01", "BAD");
        await Receive("10-RING", 20, "A-01");
        foreach (var (kit, lines) in new[] { (House, $"{{ part: \"{Part}\", quantity: 1 }}"), (Outer, $"{{ part: \"{House}\", quantity: 1 }}, {{ part: \"10-RING\", quantity: 1 }}") })
            await Do($"defineRecipe(kit: \"{kit}\", lines: [{lines}], variants: [\"VS30-055\"], scope: RESEAL)", "version");
        await Do($"buildKit(kit: \"{House}\", count: 1, to: \"A-02\", lot: \"H-BAD\")", "lot");
        await Receive(Part, 1, "A-01", "GOOD");
        await Do($"buildKit(kit: \"{House}\", count: 1, to: \"A-02\", lot: \"H-GOOD\")", "lot");
        await Do($"buildKit(kit: \"{Outer}\", count: 2, to: \"A-02\", lot: \"O\")", "lot");

        // One of the two: nobody can tell which of the kits within came out, so it lies in a lot that may hold the bad seal.
        await Do($"breakDownKit(kit: \"{Outer}\", lot: \"O\", count: 1, from: \"A-02\", to: \"A-02\")", "count");
        var recall = (await Store.Dispatcher.Ask<Recall.Query, Recall.Answer>(new(RecallFrom.Lot, "BAD", Part), CancellationToken.None)).Result;
        Assert.Equal([$"{House} {Outer} O A-02 1", $"{Outer} O A-02 1"], recall.Kits.Select(hit => $"{hit.Part} {hit.Lot} {hit.Place} {hit.Quantity}"));
    }

    private async Task<bool> Any(Random random, Func<string> newLot)
    {
        var lots = await Store.With(db => db.Lots.Where(row => row.Part.Number == Part).OrderBy(row => row.Id).Select(row => row.Code)
            .ToListAsync());
        string Lot() => lots[random.Next(lots.Count)];
        string Place() => random.Next(2) == 0 ? "A-01" : "B-01";
        var (job, id, pieces) = ($"J-{random.Next(1, 7)}", Guid.NewGuid().ToString(), Quantity.FromWhole(random.Next(1, 6)));
        switch (random.Next(12))
        {
            case 8: return await Sent<BuildKit.Command, BuildKit.Answer>(new(id, House, random.Next(1, 4), Place(), BuildRule.AsManyAsPossible));
            case 9: return await Sent<BuildKit.Command, BuildKit.Answer>(new(id, Outer, random.Next(1, 3), Place(), BuildRule.AsManyAsPossible));
            case 10:
                var kits = await Store.With(db => db.StockBalances.Where(row => (row.Part.Number == House || row.Part.Number == Outer) && row.OnHand != Quantity.Zero)
                    .OrderBy(row => row.Id).Select(row => new { row.Part.Number, Lot = row.Lot!.Code, Place = row.Location.Code }).ToListAsync());
                return kits.Count > 0 && kits[random.Next(kits.Count)] is var some && await Sent<BreakDownKit.Command, BreakDownKit.Answer>(
                    new(id, some.Number, some.Lot, random.Next(1, 3), some.Place, Place()));
            case 11:
                var bagged = await Store.With(db => db.StockBalances.Where(row => (row.Part.Number == House || row.Part.Number == Outer) && row.OnHand != Quantity.Zero)
                    .OrderBy(row => row.Id).Select(row => new { row.Part.Number, Lot = row.Lot!.Code }).ToListAsync());
                return bagged.Count > 0 && bagged[random.Next(bagged.Count)] is var one
                    && await Sent<PullStock.Command, PullStock.Answer>(new(id, job, one.Number, Quantity.FromWhole(1), Lot: one.Lot));
            case 0: return await Sent<MoveStock.Command, StockPosted>(new(id, Part, Place(), Place(), pieces, Lot()));
            case 1: return await Sent<SplitLot.Command, StockPosted>(new(id, Part, Lot(), Place(), pieces, newLot()));
            case 2: return await Sent<MergeLots.Command, StockPosted>(new(id, Part, [Lot()], Lot()));
            case 3: return await Sent<ReturnFromJob.Command, StockPosted>(new(id, job, Part, pieces, Place(), StockCondition.New, Lot()));
            case 4:
                var last = await Store.With(db => db.StockTransactions.OrderByDescending(row => row.Id).Select(row => row.Id)
                    .Skip(random.Next(4)).FirstOrDefaultAsync());
                return await Sent<ReverseTransaction.Command, StockPosted>(new(id, last, "random"));
            default: return await Sent<PullStock.Command, PullStock.Answer>(new(id, job, Part, pieces, Lot: Lot()));
        }
    }

    private async Task<bool> Sent<TAct, TAnswer>(TAct act) where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        Outcome<TAnswer> outcome = await Store.Dispatcher.Send<TAct, TAnswer>(act, Bench, CancellationToken.None);
        Assert.NotEqual("BUSY", outcome.Refusal?.Code);
        return outcome.Succeeded;
    }

    private async Task Compare(string part, string? lot)
    {
        var recall = await Store.Dispatcher.Ask<Recall.Query, Recall.Answer>(
            lot is null ? new(RecallFrom.Part, part) : new(RecallFrom.Lot, lot, part), CancellationToken.None);
        Assert.True(recall.Succeeded, recall.Refusal?.ToString());
        var (jobs, stock) = await Walk(part, lot);
        Assert.True(jobs.SetEquals(recall.Result.Jobs.Select(job => job.Job)),
            $"{lot}: {string.Join(' ', jobs.Order())} by the ledger, {string.Join(' ', recall.Result.Jobs.Select(job => job.Job))} by the recall (seed {Seed}).");
        var told = recall.Result.Stock.Concat(recall.Result.Kits).Select(hit => $"{hit.Part}/{hit.Lot}/{hit.Place}/{hit.Quantity}")
            .ToHashSet();
        Assert.True(stock.SetEquals(told),
            $"{lot}: {string.Join(' ', stock.Order())} by the ledger, {string.Join(' ', told.Order())} by the recall (seed {Seed}).");
    }

    /// <summary>
    /// Every line from the first on, one after the other: which lots hold such pieces, which jobs took some since and still have some of
    /// that lot, what lies where. What is bad in a lot is all of it, or a part in it, or a part in a kit in it: "81-OUT" may hold bad "80-ELM/10-SEAL".
    /// </summary>
    /// <param name="lot">Null for every piece of the part, of whatever lot.</param>
    private Task<(HashSet<string> Jobs, HashSet<string> Stock)> Walk(string part, string? lot) => Store.With(async db =>
    {
        var transactions = await db.StockTransactions.AsNoTracking().Include(row => row.Lines).ThenInclude(line => line.Part)
            .Include(row => row.Lines).ThenInclude(line => line.Lot)
            .Include(row => row.Lines).ThenInclude(line => line.Location).Include(row => row.Reverses).OrderBy(row => row.Id).ToListAsync();
        var bad = (await db.Lots.Where(row => row.Part.Number == part && (lot == null || row.Code == lot)).Select(row => row.Code).ToListAsync())
            .ToDictionary(code => (part, code), _ => new HashSet<string> { All });
        var (has, took, lies) = (new Dictionary<(string Job, (string, string) Lot), long>(), new HashSet<(string, (string, string))>(),
            new Dictionary<((string, string) Lot, string Place), long>());
        var builtOf = new Dictionary<(string, string), HashSet<(string, string)>>();
        // A kit that was bought holds what the catalogue says.
        if (lot is null) bad.Add(("80-RSL", "K1"), [part]);
        foreach (var transaction in transactions)
        {
            // Pieces that left a bad lot inside the shop, and came inside again in another: that lot is bad from here on. Into a kit goes
            // what is bad in it, by part; out of a kit comes that part and no other, all of them where the whole kit is bad. A lot that
            // gets its own pieces back is as it was.
            var kept = transaction.Lines.Where(line => line.LocationId is not null && line.Lot is not null).ToList();
            var (act, taken) = (transaction.Act, transaction.Reverses?.Act);
            var (builds, opens) = (act == "build-kit" || taken == "break-down-kit", act == "break-down-kit" || taken == "build-kit");
            var left = kept.Where(line => line.Quantity < Quantity.Zero).ToList();
            if (act == "build-kit")
                foreach (var kits in kept.Where(line => line.Quantity > Quantity.Zero)) builtOf[Of(kits)] = [.. left.Select(Of)];
            foreach (var gone in left.Where(line => bad.ContainsKey(Of(line))))
                foreach (var came in kept.Where(line => line.Quantity > Quantity.Zero))
                {
                    var through = bad[Of(gone)].ToHashSet();
                    if (builds) through = [.. through.Select(within => within == All ? gone.Part.Number : $"{gone.Part.Number}/{within}")];
                    if (opens && !through.Contains(All))
                        through = builtOf.GetValueOrDefault(Of(gone))?.Contains(Of(came)) == true ? []
                            : [.. through.Select(within => within.Split('/', 2)).Where(within => within[0] == came.Part.Number)
                                .Select(within => within.Length == 1 ? All : within[1])];
                    if (through.Count == 0) continue;
                    if (!bad.TryGetValue(Of(came), out var known)) bad.Add(Of(came), known = []);
                    known.UnionWith(through);
                }
            foreach (var line in transaction.Lines.Where(line => line.Lot is not null))
            {
                if (line.Location is { } place) lies[(Of(line), place.Code)] =
                    lies.GetValueOrDefault((Of(line), place.Code)) + line.Quantity.Thousandths;
                if (line.Outside != OutsideWorld.Job) continue;
                var job = transaction.BelongsToRef ?? transaction.Reverses?.BelongsToRef ?? "";
                has[(job, Of(line))] = has.GetValueOrDefault((job, Of(line))) + line.Quantity.Thousandths;
                if (line.Quantity > Quantity.Zero && bad.ContainsKey(Of(line))) took.Add((job, Of(line)));
            }
        }
        return (has.Where(one => one.Value > 0 && bad.ContainsKey(one.Key.Lot) && took.Contains(one.Key)).Select(one => one.Key.Job)
            .ToHashSet(),
            lies.Where(one => one.Value != 0 && bad.ContainsKey(one.Key.Lot)).GroupBy(one => one.Key)
                .Select(one => $"{one.Key.Lot.Item1}/{one.Key.Lot.Item2}/{one.Key.Place}/{Quantity.FromThousandths(one.Sum(pieces => pieces.Value))}").ToHashSet());
    });

    private const string All = "*";

    private static (string, string) Of(Data.Stock.StockLineRow line) => (line.Part.Number, line.Lot!.Code);
}

public sealed class RecallOnSqlite(SqliteStore store) : RecallSpecification<SqliteStore>(store);

public sealed class RecallOnPostgreSql(PostgreSqlStore store) : RecallSpecification<PostgreSqlStore>(store);

public sealed class RecallOnSqlServer(SqlServerStore store) : RecallSpecification<SqlServerStore>(store);
