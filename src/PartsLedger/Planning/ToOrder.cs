using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Planning;
using PartsLedger.Hosting;
using PartsLedger.Jobs;
using PartsLedger.Stock;

namespace PartsLedger.Planning;

/// <summary>
/// What to order: parts of which the open jobs' accepted lists need more than there is, and parts that will have run out before new ones could
/// be here, going by what jobs used lately.
/// </summary>
public static class ToOrder
{
    /// <summary>The days that "lately" looks back.</summary>
    public const int UsageDays = 90;

    [Allowed(Role.Counter, Role.Warehouse, Role.Administrator, Role.Reader)]
    [Heavy]
    public sealed record Query : IQuery<Answer>;

    /// <param name="Short">By part number.</param>
    /// <param name="Soon">Those that run out first come first.</param>
    public sealed record Answer(IReadOnlyList<ShortPart> Short, IReadOnlyList<RunningOut> Soon);

    /// <param name="Needed">Still to be pulled by all open jobs together.</param>
    /// <param name="There">Of that: what these jobs have reserved, and what is free.</param>
    /// <param name="Missing">What has to be ordered for them.</param>
    /// <param name="Jobs">Who needs it, the one due first first.</param>
    public sealed record ShortPart(
        string Part, string Name, Quantity Needed, Quantity There, Quantity Missing, int? LeadDays, Money Cost, IReadOnlyList<string> Jobs);

    /// <param name="Free">On hand in good condition less reserved, less what open jobs still need.</param>
    /// <param name="Used">By jobs in the last <see cref="UsageDays"/> days, less what they gave back.</param>
    /// <param name="DaysLeft">How long it lasts if used on like that, whole days.</param>
    public sealed record RunningOut(string Part, string Name, Quantity Free, Quantity Used, int DaysLeft, int LeadDays);

    public sealed class Handler(LedgerContext db, JobDesk desk, JobShelf shelf, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var now = clock.GetUtcNow();
            var needed = await Needed(now, cancellation);
            var used = await Used(now, cancellation);
            var ids = new Dictionary<string, int>(StringComparer.Ordinal);
            foreach (var some in needed.Keys.Chunk(900))
                foreach (var part in await db.Parts.AsNoTracking().Where(row => some.Contains(row.Number)).Select(row => new { row.Id, row.Number })
                    .ToListAsync(cancellation)) ids.Add(part.Number, part.Id);
            var (known, free) = (new Dictionary<int, KnownPart>(), new Dictionary<int, Quantity>());
            foreach (var some in ids.Values.Union(used.Keys).Chunk(900))
            {
                foreach (var part in await db.Parts.AsNoTracking().Where(row => some.Contains(row.Id))
                    .Select(row => new KnownPart(row.Id, row.Number, row.Name, row.LeadDays, row.Cost)).ToListAsync(cancellation)) known.Add(part.Id, part);
                foreach (var (id, quantity) in await Availability.Of(db, some, now, cancellation)) free.Add(id, quantity);
            }
            var lines = needed.Select(entry => (Of: known[ids[entry.Key]], Need: entry.Value, Free: free.GetValueOrDefault(ids[entry.Key]))).ToList();
            return new Answer(
                [.. lines.Select(line => Short(line.Of, line.Need, line.Free)).Where(line => line.Missing > Quantity.Zero)
                    .OrderBy(line => line.Part, StringComparer.Ordinal)],
                [.. used.Select(entry => RunningOutOf(known[entry.Key], entry.Value,
                        Quantity.Max(Quantity.Zero, free.GetValueOrDefault(entry.Key) - (needed.GetValueOrDefault(known[entry.Key].Number)?.Beyond ?? Quantity.Zero))))
                    .OfType<RunningOut>().OrderBy(line => line.DaysLeft).ThenBy(line => line.Part, StringComparer.Ordinal)]);
        }

        private sealed record KnownPart(int Id, string Number, string Name, int? LeadDays, Money Cost);

        /// <param name="Left">Still to be pulled.</param>
        /// <param name="Reserved">Of that, what the jobs have reserved.</param>
        private sealed record Need(Quantity Left, Quantity Reserved, IReadOnlyList<string> Jobs)
        {
            public Quantity Beyond => Left - Reserved;
        }

        private static ShortPart Short(KnownPart part, Need need, Quantity free)
        {
            var there = Quantity.Min(need.Left, need.Reserved + free);
            return new ShortPart(part.Number, part.Name, need.Left, there, need.Left - there, part.LeadDays, part.Cost, need.Jobs);
        }

        private static RunningOut? RunningOutOf(KnownPart part, Quantity used, Quantity free) =>
            part.LeadDays is { } lead && UsageForecast.DaysLeft(free, used, UsageDays) is { } days && days <= lead
                ? new RunningOut(part.Number, part.Name, free, used, days, lead) : null;

        private async Task<Dictionary<string, Need>> Needed(DateTimeOffset now, CancellationToken cancellation)
        {
            var needed = new Dictionary<string, Need>(StringComparer.Ordinal);
            var jobs = await db.Jobs.AsNoTracking().Where(row => row.State == JobState.ListAccepted)
                .OrderBy(row => row.DueOn == null).ThenBy(row => row.DueOn).ThenBy(row => row.Id).ToListAsync(cancellation);
            foreach (var job in jobs)
            {
                var reserved = (await desk.Pieces(job, now, cancellation)).ReservedByNumber;
                foreach (var need in (await shelf.Needs(job, cancellation)).Where(need => need.Left > Quantity.Zero))
                {
                    var held = Quantity.Min(need.Left, reserved.GetValueOrDefault(need.Part));
                    needed[need.Part] = needed.TryGetValue(need.Part, out var other)
                        ? new Need(other.Left + need.Left, other.Reserved + held, [.. other.Jobs, job.Number]) : new Need(need.Left, held, [job.Number]);
                }
            }
            return needed;
        }

        /// <summary>By part id; summed where the lines are, so that only a row for each part travels.</summary>
        private async Task<Dictionary<int, Quantity>> Used(DateTimeOffset now, CancellationToken cancellation)
        {
            var since = Instant.ToMicroseconds(now.AddDays(-UsageDays));
            var rows = await db.Database.SqlQuery<UsedPart>($"""
                select l.part_id as "PartId", cast(sum(l.quantity) as bigint) as "Used"
                from stock_lines l inner join stock_transactions t on t.id = l.transaction_id
                where l.outside = 'job' and t.at >= {since} group by l.part_id
                """).ToListAsync(cancellation);
            return rows.Where(row => row.Used > 0).ToDictionary(row => row.PartId, row => Quantity.FromThousandths(row.Used));
        }

        private sealed record UsedPart(int PartId, long Used);
    }
}
