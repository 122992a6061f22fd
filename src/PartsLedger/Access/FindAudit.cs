using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Who did, saw or was refused what, from where and when: the latest first. Whoever looks is written down too.</summary>
public static class FindAudit
{
    /// <param name="Who">The whole name that stands beside it; in small or capital letters as the database compares them.</param>
    /// <param name="What">The use case, such as <c>MoveStock</c>.</param>
    /// <param name="Code">The refusal's code.</param>
    /// <param name="Since">From then on.</param>
    /// <param name="Before">Earlier than that.</param>
    [Allowed(Role.Supervisor, Role.Administrator)]
    [WrittenDown]
    public sealed record Query(PageRequest Page, string? Who = null, string? What = null, AuditKind? Kind = null, string? Code = null,
        DateTimeOffset? Since = null, DateTimeOffset? Before = null) : IQuery<Page<Entry>>;

    /// <param name="Place">In the chain, from 1.</param>
    /// <param name="About">Whom or what it concerned, where the use case says so.</param>
    /// <param name="Hash">Holds this entry and all before it fast.</param>
    public sealed record Entry(long Place, DateTimeOffset At, string Who, AuditKind Kind, string What, string? About, string? Code, string? RequestId,
        Way Way, string? Address, string Hash);

    public sealed class Handler(LedgerContext db, AuditSealer sealer) : IQueryHandler<Query, Page<Entry>>
    {
        public async Task<Outcome<Page<Entry>>> Handle(Query query, CancellationToken cancellation)
        {
            var before = long.MaxValue;
            if (query.Page.After is { } after && !long.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out before)) return PageRequest.BadCursor;
            await sealer.SealAll(cancellation);

            var rows = db.AuditSeals.AsNoTracking().Where(row => row.Position < before);
            if (query.Who is { } who) rows = rows.Where(row => row.Entry.Who == who);
            if (query.What is { } what) rows = rows.Where(row => row.Entry.What == what);
            if (query.Kind is { } kind) rows = rows.Where(row => row.Entry.Kind == kind);
            if (query.Code is { } code) rows = rows.Where(row => row.Entry.Code == code);
            if (query.Since is { } since) rows = rows.Where(row => row.Entry.At >= since);
            if (query.Before is { } until) rows = rows.Where(row => row.Entry.At < until);
            var found = await rows.OrderByDescending(row => row.Position).Take(query.Page.First + 1)
                .Select(row => new Entry(row.Position, row.Entry.At, row.Entry.Who, row.Entry.Kind, row.Entry.What, row.Entry.About, row.Entry.Code,
                    row.Entry.RequestId, row.Entry.Way, row.Entry.Address, row.Hash)).ToListAsync(cancellation);
            return Page.Of(query.Page, found, row => row.Place.ToString(CultureInfo.InvariantCulture));
        }
    }
}
