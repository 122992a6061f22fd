using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>The two-scan check: do these two belong together? Yes, or no with the reason.</summary>
public static class BelongTogether
{
    [AllowedToEveryone]
    public sealed record Query(string First, string Second) : IQuery<Answer>;

    public sealed record Answer(bool Together, string Why);

    /// <param name="parted">The last pair both were in, and when it ended, if they ever were one.</param>
    public static Answer Decide(UnitRow first, UnitRow second, (string Code, DateTimeOffset At)? parted)
    {
        if (first.Id == second.Id) return new Answer(false, $"NO: {first.Tag} was scanned twice. Scan the other half.");
        if (first.PairId is not null && first.PairId == second.PairId) return new Answer(true, $"YES: {first.Tag} and {second.Tag} are pair {first.Pair!.Code}.");
        if (first.Role == second.Role) return new Answer(false, $"NO: both are {(first.Role == UnitRole.Valve ? "valves" : "housings")}.");
        if (first.FamilyId != second.FamilyId) return new Answer(false, $"NO: {first.Tag} is of family {first.Family.Code}, {second.Tag} of {second.Family.Code}.");
        if (first.PressureClassId is not null && second.PressureClassId is not null && first.PressureClassId != second.PressureClassId)
            return new Answer(false, $"NO: {first.Tag} is of class {first.PressureClass!.Code}, {second.Tag} of {second.PressureClass!.Code}.");
        if (parted is var (code, at)) return new Answer(false, $"NO: they were pair {code}, which ended on {at:yyyy-MM-dd}.");
        foreach (var unit in (UnitRow[])[first, second])
            if (unit.Pair is { } pair)
                return new Answer(false, $"NO: {unit.Tag} belongs with {pair.Halves.Single(half => half.Id != unit.Id).Tag} (pair {pair.Code}).");
        return new Answer(false, $"NO: {first.Tag} and {second.Tag} are not a pair.");
    }

    public sealed class Handler(LedgerContext db, UnitDesk desk) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var first = await desk.Unit(query.First, cancellation);
            if (!first.Succeeded) return first.Refusal;
            var second = await desk.Unit(query.Second, cancellation);
            if (!second.Succeeded) return second.Refusal;
            var (one, two) = (first.Result.Id, second.Result.Id);
            var parted = await db.UnitEvents.AsNoTracking()
                .Where(row => row.UnitId == one && (row.What == "taken apart" || row.What == "condemned" || row.What == "gone out")
                    && db.UnitEvents.Any(other => other.UnitId == two && other.PairId == row.PairId && other.What == row.What))
                .OrderByDescending(row => row.Id).Select(row => new { row.Pair!.Code, row.At }).FirstOrDefaultAsync(cancellation);
            return Decide(first.Result, second.Result, parted is null ? null : (parted.Code, parted.At));
        }
    }
}
