using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Jobs;

/// <summary>Jobs in the order they came in, all or those in some states.</summary>
public static class FindJobs
{
    /// <param name="States">Null for every state.</param>
    [AllowedToEveryone]
    public sealed record Query(IReadOnlyList<JobState>? States, PageRequest Page) : IQuery<Page<Summary>>;

    /// <param name="Variant">Null while it is not settled.</param>
    public sealed record Summary(
        int Id, string Number, JobState State, JobPriority Priority, DateOnly? DueOn, string? CustomerReference, string? Machine,
            string? Core, bool IsExchange,
        string? Variant, string? PressureClass, JobScope Scope, Money? PromisedPrice, string? Stopped, DateTimeOffset StartedAt,
            DateTimeOffset? ReleasedAt)
    {
        internal static Summary Of(JobRow row) => new(row.Id, row.Number, row.State, row.Priority, row.DueOn, row.CustomerReference,
        row.Machine, row.Core?.Tag, row.IsExchange,
            row.Variant?.Code, row.Variant?.PressureClass.Code, row.JobScope, row.PromisedPrice, row.Stopped, row.StartedAt,
            row.ReleasedAt);
    }

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Page<Summary>>
    {
        public async Task<Outcome<Page<Summary>>> Handle(Query query, CancellationToken cancellation)
        {
            var rows = db.Jobs.AsNoTracking();
            if (query.States is { Count: > 0 } states) rows = rows.Where(row => states.Contains(row.State));
            if (query.Page.After is { } after)
            {
                if (!int.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out var last)) return PageRequest.BadCursor;
                rows = rows.Where(row => row.Id > last);
            }
            var found = await rows.Include(row => row.Core).Include(row => row.Variant!.PressureClass).OrderBy(row => row.Id)
                .Take(query.Page.First + 1).ToListAsync(cancellation);
            return Page.Of(query.Page, found.ConvertAll(Summary.Of), job => job.Id.ToString(CultureInfo.InvariantCulture));
        }
    }
}
