using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// What changes whenever anything of a job does, and what happened last: cheap enough to be asked every few seconds by whoever looks at it.
/// </summary>
public static class BenchVersion
{
    [AllowedToEveryone]
    public sealed record Query(string Job) : IQuery<Answer>;

    /// <param name="Version">Short, and another one after every change.</param>
    /// <param name="Last">What happened last; null where nothing did.</param>
    public sealed record Answer(string Version, History.Entry? Last);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var key = Code.KeyOf(query.Job);
            var job = await db.Jobs.AsNoTracking().Where(row => row.NumberKey == key)
                .Select(row => new { row.Id, row.Number, row.Version, Pair = row.Pair == null ? 0 : row.Pair.Version }).SingleOrDefaultAsync(cancellation);
            if (job is null) return WorkRefusals.UnknownJob(query.Job, []);
            var last = await db.JobEvents.AsNoTracking().Where(row => row.JobId == job.Id).OrderByDescending(row => row.Id)
                .FirstOrDefaultAsync(cancellation);

            // Stock moves and is reserved under a job's number without the job being asked.
            var moved = await db.StockTransactions.Where(row => row.BelongsTo == JobWork.BelongsTo && row.BelongsToRef == key)
                .MaxAsync(row => (long?)row.Id, cancellation);
            var reserved = await Reservations.OfJob(db, key, cancellation);
            return new Answer($"{job.Version}.{job.Pair}.{last?.Id}.{moved}.{reserved.Count}.{reserved.Total(line => line.Open)}",
                last is null ? null : new History.Entry(last.At, last.Who, $"job {job.Number}", last.What, last.Detail, last.Why));
        }
    }
}
