using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Cores;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Cores;

/// <summary>
/// One core with the checklist it is graded by: every position of its variant's parts list or, while the variant is not known, of its
/// family's, each with what was found there so far.
/// </summary>
public static class CoreByTag
{
    [AllowedToEveryone]
    public sealed record Query(string Tag) : IQuery<Answer>;

    /// <param name="Owed">What is still owed for it.</param>
    /// <param name="Checklist">By position; empty while not even the family is known and nothing was found.</param>
    public sealed record Answer(
        string Tag, CoreState State, CoreGrade? Grade, string? Family, string? Variant, string? Serial, string? ConditionOnArrival, DateOnly? ReceivedOn,
        string? ReceivedFrom, Money Deposit, Money Owed, IReadOnlyList<Check> Checklist);

    /// <param name="Name">What stands at the position; where the family's variants have different things there, all their names.</param>
    /// <param name="Finding">Null while nobody has looked.</param>
    public sealed record Check(int Position, string Name, Finding? Finding, string? Note);

    public sealed class Handler(LedgerContext db, CoreDesk desk) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var found = await desk.Core(query.Tag, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var core = found.Result;
            return new Answer(core.Tag, core.State, core.Grade, core.Family?.Code, core.Variant?.Code, core.Serial, core.ConditionOnArrival, core.ReceivedOn, core.ReceivedFrom,
                core.Deposit, await desk.Owed(core.Id, cancellation), await Checklist(core, cancellation));
        }

        private async Task<List<Check>> Checklist(CoreRow core, CancellationToken cancellation)
        {
            var rows = await db.Positions.AsNoTracking()
                .Where(row => core.VariantId != null ? row.VariantId == core.VariantId : row.Variant.FamilyId == core.FamilyId)
                .Select(row => new { row.Position, row.Name }).Distinct().ToListAsync(cancellation);
            var names = rows.GroupBy(row => row.Position).ToDictionary(position => position.Key,
                position => string.Join(" / ", position.Select(row => row.Name).Order(StringComparer.Ordinal).Distinct(StringComparer.OrdinalIgnoreCase)));
            var findings = core.Findings.ToDictionary(finding => finding.Position);
            return [.. names.Keys.Union(findings.Keys).Order().Select(position => new Check(position, names.GetValueOrDefault(position, ""),
                findings.GetValueOrDefault(position)?.Finding, findings.GetValueOrDefault(position)?.Note))];
        }
    }
}
