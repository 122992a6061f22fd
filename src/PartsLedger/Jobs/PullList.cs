using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Fit;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;

namespace PartsLedger.Jobs;

/// <summary>One walk past the bins: what to fetch where, first-expired lots first, and what is nowhere to be had.</summary>
public static class PullList
{
    [AllowedToEveryone]
    public sealed record Query(string Job) : IQuery<Answer>;

    /// <param name="Stops">In walking order: places by their codes.</param>
    public sealed record Answer(string Job, IReadOnlyList<Stop> Stops, IReadOnlyList<MissingPart> Missing);

    /// <param name="What">A part's number, or a matched pair's code with both tags.</param>
    public sealed record Stop(string Place, string What, string Name, string? Lot, DateOnly? ExpiresOn, Quantity Quantity, bool Reserved);

    public sealed record MissingPart(string Part, Quantity Quantity);

    public sealed class Handler(LedgerContext db, JobDesk desk, JobShelf shelf, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var found = await desk.Job(query.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var plan = await shelf.Plan(job, clock.GetUtcNow(), cancellation);
            var ids = plan.Fetches.Select(fetch => fetch.Part.Id).Distinct().ToList();
            var names = await db.Parts.AsNoTracking().Where(row => ids.Contains(row.Id)).ToDictionaryAsync(row => row.Id, row => row.Name,
                cancellation);
            var pairs = await db.JobListLines.AsNoTracking().Where(row => row.List.JobId == job.Id && row.List.Revision == job.ListRevision
                && row.PairId != null && row.PairId != job.PairId)
                .Include(row => row.Pair!.Halves).Include(row => row.Pair!.Location).Select(row => row.Pair!).ToListAsync(cancellation);
            var fetched = await Fetched(job, [.. pairs.Select(pair => pair.Id)], cancellation);
            var stops = plan.Fetches.Select(fetch => new Stop(fetch.From.Place.Code, fetch.Part.Number, names[fetch.Part.Id],
                fetch.From.Lot, fetch.From.ExpiresOn, fetch.Quantity, fetch.Reserved))
                .Concat(pairs.Where(pair => pair.State == PairState.Together && !fetched.Contains(pair.Id)).Select(Of));
            return new Answer(job.Number, [.. stops.OrderBy(stop => Domain.Catalog.Code.KeyOf(stop.Place), StringComparer.Ordinal)],
                [.. plan.Missing.Select(missing => new MissingPart(missing.Part, missing.Quantity))]);
        }

        /// <summary>The pairs that were fetched for the job, and not put anywhere since.</summary>
        private async Task<HashSet<int>> Fetched(JobRow job, int[] pairs, CancellationToken cancellation)
        {
            if (pairs.Length == 0) return [];
            var moves = await db.UnitEvents.AsNoTracking().Where(row => pairs.Contains(row.PairId!.Value) && (row.What == PullForJob.Fetched || row.What == MoveUnit.Moved))
                .OrderBy(row => row.Id).Select(row => new { Pair = row.PairId!.Value, row.What, row.Detail }).ToListAsync(cancellation);
            return [.. moves.GroupBy(move => move.Pair).Select(group => group.Last())
                .Where(last => last.What == PullForJob.Fetched && last.Detail == PullForJob.For(job)).Select(last => last.Pair)];
        }

        private static Stop Of(PairRow pair) => new(pair.Place(), $"{pair.Code}: {pair.Tags()}", "Matched pair, both halves together", null,
            null, Quantity.FromWhole(1), true);
    }
}
