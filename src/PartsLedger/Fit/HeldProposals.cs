using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>Proposals of which something is still held, oldest first: who holds which halves and until when.</summary>
public static class HeldProposals
{
    [AllowedToEveryone]
    public sealed record Query(PageRequest Page) : IQuery<Page<Held>>;

    public sealed record Held(long Proposal, string Family, string By, DateTimeOffset Until, IReadOnlyList<ProposePairs.Pair> Pairs);

    public sealed class Handler(LedgerContext db, TimeProvider clock) : IQueryHandler<Query, Page<Held>>
    {
        public async Task<Outcome<Page<Held>>> Handle(Query query, CancellationToken cancellation)
        {
            var now = clock.GetUtcNow();
            var proposals = db.Proposals.AsNoTracking().Where(row => row.HeldUntil > now && row.Lines.Any(line => line.State == ProposalState.Held));
            if (query.Page.After is { } after)
            {
                if (!long.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out var last)) return PageRequest.BadCursor;
                proposals = proposals.Where(row => row.Id > last);
            }
            var rows = await proposals.OrderBy(row => row.Id).Take(query.Page.First + 1)
                .Select(row => new
                {
                    row.Id, row.Family.Code, row.MadeBy, row.HeldUntil,
                    Lines = row.Lines.Where(line => line.State == ProposalState.Held).OrderBy(line => line.Id)
                        .Select(line => new { Housing = line.Housing.Tag, Valve = line.Valve.Tag, line.Clearance, line.Deviation }).ToList(),
                }).AsSingleQuery().ToListAsync(cancellation);
            return Page.Of(query.Page, rows, row => row.Id.ToString(CultureInfo.InvariantCulture)).Select(row => new Held(row.Id, row.Code, row.MadeBy, row.HeldUntil,
                row.Lines.ConvertAll(line => new ProposePairs.Pair(line.Housing, line.Valve, line.Clearance.ToMicrometres(), line.Deviation.ToMicrometres()))));
        }
    }
}
