using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>What a recall starts from.</summary>
public enum RecallFrom { Lot, Part, Gauge, Measurement, Bench }

/// <summary>
/// Something was found to be bad: a lot, a part, a gauge out of calibration, one measurement, a bench. Which jobs are concerned, what lies
/// on the shelf, and which kits hold it.
/// </summary>
public static class Recall
{
    /// <param name="Code">The lot, part number, gauge or bench, or the number of the measurement.</param>
    /// <param name="Part">The part that the lot is of; needed for a lot.</param>
    /// <param name="Since">Only what was measured or tested from then on; for a gauge or a bench.</param>
    [AllowedToEveryone]
    [Heavy]
    [WrittenDown]
    public sealed record Query(RecallFrom From, string Code, string? Part = null, DateTimeOffset? Since = null) : IQuery<Answer>;

    public sealed record Answer(string What, IReadOnlyList<JobHit> Jobs, IReadOnlyList<StockHit> Stock, IReadOnlyList<StockHit> Kits,
        IReadOnlyList<UnitHit> Units);

    /// <param name="Job">A job's number, or what stock was pulled for where there is no such job.</param>
    /// <param name="State">Null where there is no such job.</param>
    public sealed record JobHit(string Job, JobState? State, string? CustomerReference, DateTimeOffset? ReleasedAt,
        IReadOnlyList<string> Why);

    public sealed record StockHit(string Part, string? Lot, string Place, StockCondition Condition, Quantity Quantity);

    /// <param name="Where">Its place, or what became of it.</param>
    public sealed record UnitHit(string Tag, string? Pair, string Where, string? Job);

    public sealed class Handler(LedgerContext db, StockDesk stock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            switch (query.From)
            {
                case RecallFrom.Lot:
                    if (string.IsNullOrWhiteSpace(query.Part)) return new Refusal("PART_MISSING",
                        "It is not said which part the lot is of.", "Name the part: one lot code may be on several.");
                    var ofLot = await stock.Part(query.Part, cancellation);
                    if (!ofLot.Succeeded) return ofLot.Refusal;
                    var lot = await stock.Lot(ofLot.Result, query.Code, cancellation);
                    if (!lot.Succeeded) return lot.Refusal;
                    return await OfLots($"lot {lot.Result.Code} of {ofLot.Result.Number}", await new LotTrail(db)
                        .From([(new Concern(lot.Result.Id), 0)], cancellation), cancellation);
                case RecallFrom.Part:
                    var part = await stock.Part(query.Code, cancellation);
                    return part.Succeeded ? await OfPart(part.Result, cancellation) : part.Refusal;
                case RecallFrom.Bench:
                    return await OfBench(query, cancellation);
                default:
                    return await OfMeasurements(query, cancellation);
            }
        }

        private sealed record Pulled(string Key, int PartId, string Part, int? LotId, string? Lot, Quantity Quantity, long Transaction);

        private async Task<Answer> OfLots(string what, IReadOnlyDictionary<int, long> since, CancellationToken cancellation)
        {
            var (jobs, lying) = await Found(since, cancellation);
            var kits = await KitParts([.. lying.Select(hit => hit.Part).Distinct()], cancellation);
            return new Answer(what, await Jobs(jobs, cancellation),
                Sorted(lying.Where(hit => !kits.Contains(hit.Part))), Sorted(lying.Where(hit => kits.Contains(hit.Part))), []);
        }

        /// <summary>Which jobs took pieces of concerned lots after they came to be concerned and have some of them, and what lies where.</summary>
        private async Task<(List<(string Job, string Why)> Jobs, List<StockHit> Lying)> Found(
            IReadOnlyDictionary<int, long> since, CancellationToken cancellation)
        {
            var (pulled, lying) = (new List<Pulled>(), new List<StockHit>());
            foreach (var some in since.Keys.Chunk(900))
            {
                pulled.AddRange(await JobLines(db.StockLines.Where(line => line.LotId != null && some.Contains(line.LotId.Value)),
                    cancellation));
                lying.AddRange(await Lying(db.StockBalances.Where(row => row.LotId != null && some.Contains(row.LotId.Value)),
                    cancellation));
            }
            return ([.. pulled.GroupBy(line => (line.Key, line.LotId)).Where(group => group.Total(line => line.Quantity) > Quantity.Zero
                && group.Any(line => line.Quantity > Quantity.Zero && line.Transaction >= since[group.Key.LotId!.Value]))
                .Select(group => (group.Key.Key, Say(group)))], lying);
        }

        /// <summary>
        /// A kit that was bought holds what the catalogue says; a kit of the house what went into its very lot, whatever the recipe says today.
        /// </summary>
        private async Task<Answer> OfPart(StockPart part, CancellationToken cancellation)
        {
            var packs = await PacksThatHold(part.Id, cancellation);
            var house = (await db.KitRecipes.AsNoTracking().Select(row => row.KitId).Distinct().ToListAsync(cancellation)).ToHashSet();
            house.IntersectWith(packs);
            var (pulled, lying, inPacks) = (new List<Pulled>(), new List<StockHit>(), new List<StockHit>());
            foreach (var some in packs.Except(house).Append(part.Id).Chunk(900))
            {
                pulled.AddRange(await JobLines(db.StockLines.Where(line => some.Contains(line.PartId)), cancellation));
                lying.AddRange(await Lying(db.StockBalances.Where(row => row.PartId == part.Id && some.Contains(row.PartId)),
                    cancellation));
                inPacks.AddRange(await Lying(db.StockBalances.Where(row => row.PartId != part.Id && some.Contains(row.PartId)),
                    cancellation));
            }
            var jobs = pulled.GroupBy(line => (line.Key, line.PartId, line.LotId))
                .Where(group => group.Total(line => line.Quantity) > Quantity.Zero).Select(group => (group.Key.Key, Say(group)));
            var built = await Found(await HouseLots(house, [.. packs.Except(house), part.Id], cancellation), cancellation);
            return new Answer($"part {part.Number}", await Jobs(jobs.Concat(built.Jobs), cancellation),
                Sorted(lying), Sorted(inPacks.Concat(built.Lying)), []);
        }

        /// <summary>Everything that holds a part at any depth, by the catalogue or by any version of a recipe.</summary>
        private async Task<HashSet<int>> PacksThatHold(int partId, CancellationToken cancellation)
        {
            var packs = new HashSet<int>();
            var frontier = new[] { partId };
            while (frontier.Length > 0)
            {
                var next = new HashSet<int>();
                foreach (var some in frontier.Chunk(900))
                {
                    next.UnionWith(await db.PackContents.AsNoTracking().Where(row => some.Contains(row.PartId)).Select(row => row.PackId)
                        .Distinct().ToListAsync(cancellation));
                    next.UnionWith(await db.KitRecipeLines.AsNoTracking().Where(row => some.Contains(row.PartId)).Select(row => row.Recipe.KitId)
                        .Distinct().ToListAsync(cancellation));
                }
                frontier = [.. next.Where(packs.Add)];
            }
            return packs;
        }

        /// <summary>
        /// The lots of kits of the house that something bad went into, from then on. What came from outside under a kit's number holds nobody
        /// knows what: it is counted as holding whatever any version of the recipe does.
        /// </summary>
        private async Task<IReadOnlyDictionary<int, long>> HouseLots(HashSet<int> house, HashSet<int> bad, CancellationToken cancellation)
        {
            var starts = new List<(Concern, long)>();
            foreach (var some in bad.Chunk(900))
                starts.AddRange((await db.KitBuilds.AsNoTracking()
                    .Join(db.StockLines.Where(line => some.Contains(line.PartId)), build => build.TransactionId, line => line.TransactionId,
                        (build, line) => new { build.LotId, line.PartId, build.TransactionId }).Distinct().ToListAsync(cancellation))
                    .Select(built => (new Concern(built.LotId, new Within(built.PartId)), built.TransactionId)));
            foreach (var some in house.Chunk(900))
                starts.AddRange((await db.StockLines.AsNoTracking()
                    .Where(line => some.Contains(line.PartId) && line.LotId != null && line.Quantity < Quantity.Zero
                        && (line.Outside == OutsideWorld.Supplier || line.Outside == OutsideWorld.CountDifference || line.Outside == OutsideWorld.Opening)
                        && !db.KitBuilds.Any(build => build.LotId == line.LotId))
                    .Select(line => line.LotId!.Value).Distinct().ToListAsync(cancellation)).Select(lot => (new Concern(lot), 0L)));
            var since = await new LotTrail(db).From(starts, cancellation);
            var ofHouse = new HashSet<int>();
            foreach (var some in since.Keys.Chunk(900))
                ofHouse.UnionWith(await db.Lots.AsNoTracking().Where(row => some.Contains(row.Id) && house.Contains(row.PartId)).Select(row => row.Id)
                    .ToListAsync(cancellation));
            return since.Where(entry => ofHouse.Contains(entry.Key)).ToDictionary();
        }

        private async Task<Outcome<Answer>> OfBench(Query query, CancellationToken cancellation)
        {
            var key = Code.KeyOf(query.Code);
            var runs = await db.BenchRuns.AsNoTracking().Where(row => row.BenchKey == key).OrderBy(row => row.Id)
                .Select(row => new { row.Job.NumberKey, row.Run, row.Verdict, row.At }).ToListAsync(cancellation);
            if (runs.Count == 0) return new Refusal("UNKNOWN_BENCH", $"Nothing was tested on a bench '{query.Code.Trim()}'.",
                "Name the bench as its results do.");
            return new Answer($"bench {query.Code.Trim()}", await Jobs(runs.Where(run => query.Since is null || run.At >= query.Since)
                .Select(run => (run.NumberKey,
                FormattableString.Invariant($"run {run.Run} on {run.At.UtcDateTime:yyyy-MM-dd}: {Words.Of(run.Verdict).Replace('-', ' ')}"))), cancellation), [], [], []);
        }

        private async Task<Outcome<Answer>> OfMeasurements(Query query, CancellationToken cancellation)
        {
            var measurements = db.Measurements.AsNoTracking();
            string what;
            if (query.From == RecallFrom.Gauge)
            {
                var key = Code.KeyOf(query.Code);
                if (await db.Gauges.AsNoTracking().SingleOrDefaultAsync(row => row.CodeKey == key, cancellation) is not { } gauge)
                    return new Refusal("UNKNOWN_GAUGE", $"There is no gauge '{query.Code.Trim()}'.", "Give the code on the gauge.");
                (measurements, what) = (measurements.Where(row => row.GaugeId == gauge.Id
                    && (query.Since == null || row.TakenAt >= query.Since)), $"gauge {gauge.Code}");
            }
            else
            {
                if (!long.TryParse(query.Code, NumberStyles.None, CultureInfo.InvariantCulture, out var id)
                    || !await db.Measurements.AnyAsync(row => row.Id == id, cancellation))
                    return new Refusal("UNKNOWN_MEASUREMENT", $"There is no measurement '{query.Code.Trim()}'.",
                        "Give the number it was recorded with.");
                (measurements, what) = (measurements.Where(row => row.Id == id), $"measurement {id}");
            }
            var measured = await measurements.Select(row => row.UnitId).Distinct().ToListAsync(cancellation);
            var units = await db.Units.AsNoTracking().Where(row => measured.Contains(row.Id)).OrderBy(row => row.Tag)
                .Select(row => new { row.Tag, row.State, Pair = row.Pair!.Code, PairPlace = row.Pair!.Location!.Code,
                Place = row.Location!.Code, PairJob = row.Pair!.Job, row.Job }).ToListAsync(cancellation);

            // Every pair that a measured half was ever in: a job fitted the pair, not the half.
            var jobs = await (from row in db.Jobs
                              from past in db.UnitEvents
                              where past.UnitId != null && past.PairId != null && measured.Contains(past.UnitId.Value)
                                  && row.PairId == past.PairId && row.State != JobState.CalledOff
                              select new { row.NumberKey, past.Unit!.Tag, Pair = past.Pair!.Code }).Distinct().ToListAsync(cancellation);
            return new Answer(what, await Jobs(jobs.Select(job => (job.NumberKey, $"{job.Tag} in pair {job.Pair}")), cancellation), [], [],
                [.. units.Select(unit => new UnitHit(unit.Tag, unit.Pair, unit.PairPlace ?? unit.Place
                ?? UnitRefusals.StateWords(unit.State), unit.PairJob ?? unit.Job))]);
        }

        private static async Task<List<Pulled>> JobLines(IQueryable<Data.Stock.StockLineRow> lines, CancellationToken cancellation) =>
            await lines.AsNoTracking().Where(line => line.Outside == OutsideWorld.Job)
                .Select(line => new Pulled((line.Transaction.BelongsTo == JobWork.BelongsTo ? line.Transaction.BelongsToRef
                : line.Transaction.Reverses!.BelongsToRef) ?? "",
                    line.PartId, line.Part.Number, line.LotId, line.Lot!.Code, line.Quantity, line.TransactionId))
                    .ToListAsync(cancellation);

        private static async Task<List<StockHit>> Lying(IQueryable<Data.Stock.StockBalanceRow> balances, CancellationToken cancellation) =>
            await balances.AsNoTracking().Where(row => row.OnHand != Quantity.Zero)
                .Select(row => new StockHit(row.Part.Number, row.Lot!.Code, row.Location.Code, row.Condition, row.OnHand))
                .ToListAsync(cancellation);

        private async Task<HashSet<string>> KitParts(List<string> numbers, CancellationToken cancellation) =>
            [.. await db.PackContents.AsNoTracking().Where(row => numbers.Contains(row.Pack.Number)).Select(row => row.Pack.Number)
                .Distinct().ToListAsync(cancellation)];

        private async Task<IReadOnlyList<JobHit>> Jobs(IEnumerable<(string Key, string Why)> hits, CancellationToken cancellation)
        {
            var found = new List<JobHit>();
            var byKey = hits.Where(hit => hit.Key.Length > 0).GroupBy(hit => hit.Key).ToList();
            foreach (var some in byKey.Chunk(900))
            {
                var keys = some.Select(group => group.Key).ToList();
                var rows = await db.Jobs.AsNoTracking().Where(row => keys.Contains(row.NumberKey))
                    .ToDictionaryAsync(row => row.NumberKey, cancellation);
                found.AddRange(some.Select(group => new JobHit(rows.GetValueOrDefault(group.Key)?.Number ?? group.Key,
                    rows.GetValueOrDefault(group.Key)?.State,
                    rows.GetValueOrDefault(group.Key)?.CustomerReference, rows.GetValueOrDefault(group.Key)?.ReleasedAt,
                    [.. group.Select(hit => hit.Why).Distinct().Order(StringComparer.Ordinal)])));
            }
            return [.. found.OrderBy(hit => hit.Job, StringComparer.Ordinal)];
        }

        private static string Say(IEnumerable<Pulled> pieces)
        {
            var first = pieces.First();
            return $"{pieces.Total(line => line.Quantity)} of {first.Part}{(first.Lot is null ? "" : $", lot {first.Lot}")}";
        }

        private static IReadOnlyList<StockHit> Sorted(IEnumerable<StockHit> hits) =>
            [.. hits.OrderBy(hit => hit.Part, StringComparer.Ordinal).ThenBy(hit => hit.Lot, StringComparer.Ordinal)
                .ThenBy(hit => hit.Place, StringComparer.Ordinal).ThenBy(hit => hit.Condition)];
    }
}
