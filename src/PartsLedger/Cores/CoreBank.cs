using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Cores;

/// <summary>How many cores are in the house by family, class and grade, and what is owed for them.</summary>
public static class CoreBank
{
    [AllowedToEveryone]
    public sealed record Query : IQuery<Answer>;

    /// <param name="Owed">What is owed for all cores, wherever they are: the sum of every deposit entry.</param>
    /// <param name="OwedForLeft">The part of it owed for cores that have left the house.</param>
    public sealed record Answer(IReadOnlyList<Line> Lines, Money Owed, Money OwedForLeft);

    /// <param name="Grade">Null while not graded.</param>
    public sealed record Line(string? Family, string? PressureClass, string? Grade, int Cores, Money Owed);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var owed = (await db.DepositEntries.AsNoTracking().Select(row => new { row.CoreId, row.Amount }).ToListAsync(cancellation))
                .GroupBy(row => row.CoreId).ToDictionary(core => core.Key, core => Money.FromTenThousandths(core.Sum(row => row.Amount.TenThousandths)));
            var cores = await db.Cores.AsNoTracking()
                .Select(row => new { row.Id, row.State, row.Grade, Family = row.Family!.Code, Class = row.Variant!.PressureClass.Code }).ToListAsync(cancellation);
            var here = cores.Where(core => core.State is CoreState.Arrived or CoreState.Graded).ToList();
            var lines = here.GroupBy(core => (core.Family, core.Class, core.Grade)).OrderBy(group => group.Key.Family, StringComparer.Ordinal)
                .ThenBy(group => group.Key.Class, StringComparer.Ordinal).ThenBy(group => group.Key.Grade)
                .Select(group => new Line(group.Key.Family, group.Key.Class, group.Key.Grade is { } grade ? Words.Of(grade) : null, group.Count(),
                    Sum(group.Select(core => core.Id)))).ToList();
            var total = Sum(owed.Keys);
            return new Answer(lines, total, total - lines.Aggregate(Money.Zero, (sum, line) => sum + line.Owed));

            Money Sum(IEnumerable<int> ids) => ids.Aggregate(Money.Zero, (sum, id) => sum + owed.GetValueOrDefault(id));
        }
    }
}
