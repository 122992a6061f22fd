using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Jobs;

/// <summary>
/// The whole life of a core, a housing or valve, a pair or a job: what happened to it and to what was one with it, across jobs, oldest
/// first. A pair's events are its halves' own for as long as they were in it; a job's are those of the core it rebuilt and of the pair that
/// went into it.
/// </summary>
public static class History
{
    [AllowedToEveryone]
    public sealed record Query(string Tag, PageRequest Page) : IQuery<Answer>;

    /// <param name="Kind"><c>job</c>, <c>core</c>, <c>pair</c>, <c>housing</c> or <c>valve</c>.</param>
    public sealed record Answer(string Kind, string Tag, IReadOnlyList<string> Jobs, Page<Entry> Entries);

    /// <param name="About">The job, core, unit or pair it happened to.</param>
    public sealed record Entry(DateTimeOffset At, string Who, string About, string What, string? Detail, string? Why);

    private sealed record Reach(HashSet<int> Cores, HashSet<int> Units, HashSet<int> Pairs, HashSet<int> Jobs);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var found = await Find(query.Tag, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var (kind, tag, reach) = found.Result;
            var page = Page.Of(query.Page, await Entries(reach, cancellation));
            if (!page.Succeeded) return page.Refusal;
            var jobs = await db.Jobs.AsNoTracking().Where(row => reach.Jobs.Contains(row.Id)).OrderBy(row => row.Id)
                .Select(row => row.Number).ToListAsync(cancellation);
            return new Answer(kind, tag, jobs, page.Result);
        }

        private sealed record Found(string Kind, string Tag, Reach Reach);

        private async Task<Outcome<Found>> Find(string text, CancellationToken cancellation)
        {
            var key = Code.KeyOf(text);
            if (await db.Jobs.AsNoTracking().SingleOrDefaultAsync(row => row.NumberKey == key, cancellation) is { } job)
            {
                var cores = job is { CoreId: { } core, IsExchange: false } ? (int[])[core] : [];
                return new Found("job", job.Number, await OfCores(cores, job.PairId is { } pair ? [pair] : [], [job.Id], cancellation));
            }
            if (await db.Cores.AsNoTracking().SingleOrDefaultAsync(row => row.TagKey == key, cancellation) is { } used)
                return new Found("core", used.Tag, await WithJobs(await OfCores([used.Id], [], [], cancellation), cancellation));
            if (await db.Pairs.AsNoTracking().SingleOrDefaultAsync(row => row.CodeKey == key, cancellation) is { } kept)
            {
                var halves = await db.UnitEvents.AsNoTracking().Where(row => row.PairId == kept.Id && row.UnitId != null)
                    .Select(row => row.UnitId!.Value).Distinct().ToListAsync(cancellation);
                return new Found("pair", kept.Code, await WithJobs(new Reach([], [.. halves], [kept.Id], []), cancellation));
            }
            if (await db.Units.AsNoTracking().SingleOrDefaultAsync(row => row.TagKey == key, cancellation) is { } unit)
            {
                var pairs = await db.UnitEvents.AsNoTracking().Where(row => row.UnitId == unit.Id && row.PairId != null)
                    .Select(row => row.PairId!.Value).Distinct().ToListAsync(cancellation);
                return new Found(Words.Of(unit.Role), unit.Tag,
                    await WithJobs(new Reach(unit.CoreId is { } from ? [from] : [], [unit.Id], [.. pairs], []), cancellation));
            }
            return new Refusal("UNKNOWN_TAG", $"Nothing here has the tag '{(text.Length > 60 ? text[..60] + "…" : text)}'.",
                "Scan the tag of a core, a half or a pair, or give a job's number.");
        }

        /// <summary>Cores, the halves that came out of them and every pair those were in.</summary>
        private async Task<Reach> OfCores(int[] cores, int[] pairs, int[] jobs, CancellationToken cancellation)
        {
            var units = await db.Units.AsNoTracking().Where(row => row.CoreId != null && cores.Contains(row.CoreId.Value))
                .Select(row => row.Id).ToListAsync(cancellation);
            units.AddRange(await db.Units.AsNoTracking().Where(row => row.PairId != null && pairs.Contains(row.PairId.Value))
                .Select(row => row.Id).ToListAsync(cancellation));
            var more = await db.UnitEvents.AsNoTracking().Where(row => row.UnitId != null && row.PairId != null
                && units.Contains(row.UnitId.Value))
                .Select(row => row.PairId!.Value).Distinct().ToListAsync(cancellation);
            return new Reach([.. cores], [.. units], [.. pairs, .. more], [.. jobs]);
        }

        private async Task<Reach> WithJobs(Reach reach, CancellationToken cancellation)
        {
            reach.Jobs.UnionWith(await db.Jobs.AsNoTracking().Where(row => (row.CoreId != null && reach.Cores.Contains(row.CoreId.Value))
                || (row.PairId != null && reach.Pairs.Contains(row.PairId.Value))).Select(row => row.Id).ToListAsync(cancellation));
            return reach;
        }

        private async Task<List<Entry>> Entries(Reach reach, CancellationToken cancellation)
        {
            var ofJobs = await db.JobEvents.AsNoTracking().Where(row => reach.Jobs.Contains(row.JobId)).OrderBy(row => row.Id)
                .Select(row => new Entry(row.At, row.Who, "job " + row.Job.Number, row.What, row.Detail, row.Why))
                .ToListAsync(cancellation);
            var ofThings = await db.UnitEvents.AsNoTracking()
                .Where(row => (row.UnitId != null && reach.Units.Contains(row.UnitId.Value))
                || (row.UnitId == null && row.PairId != null && reach.Pairs.Contains(row.PairId.Value))
                    || (row.UnitId == null && row.PairId == null && row.CoreId != null && reach.Cores.Contains(row.CoreId.Value)))
                .OrderBy(row => row.Id).Select(row => new Entry(row.At, row.Who,
                    row.UnitId != null ? row.Unit!.Tag : row.PairId != null ? "pair " + row.Pair!.Code : "core " + row.Core!.Tag, row.What,
                    row.Detail, row.Why)).ToListAsync(cancellation);

            // At one moment the thing comes before the job that it happened for.
            return [.. ofThings.Concat(ofJobs).OrderBy(entry => entry.At)];
        }
    }
}
