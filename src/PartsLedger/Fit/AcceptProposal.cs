using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// A held proposal becomes pairs, in whole or in part. Refused whole when anything in it is no longer as it was: a half measured again, moved
/// to another state, or the time run out.
/// </summary>
public static class AcceptProposal
{
    /// <param name="Housings">The housings whose pairs are accepted; null for all. The rest stays held.</param>
    /// <param name="Location">Where the pairs are kept.</param>
    /// <param name="CodePrefix">A pair's code is this and its housing's tag.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, long Proposal, string Location, IReadOnlyList<string>? Housings = null, string CodePrefix = "P-", string? Why = null) : IAct<Answer>;

    public sealed record Answer(IReadOnlyList<Joined> Pairs, int StillHeld);

    public sealed record Joined(string Pair, string Housing, string Valve);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Location).Named("place");
            RuleFor(c => c.Why).ShortText("reason");
        }
    }

    /// <summary>Null when the line is still as it was proposed.</summary>
    /// <param name="latest">The latest measurement of each half.</param>
    public static Refusal? Decide(ProposalLineRow line, UnitRow housing, UnitRow valve, IReadOnlyDictionary<int, long> latest)
    {
        foreach (var (unit, measurement) in (ReadOnlySpan<(UnitRow, long)>)[(housing, line.BoreMeasurementId), (valve, line.SpoolMeasurementId)])
        {
            if (unit.Pair is { } pair) return Stale($"{unit.Tag} is in pair {pair.Code} by now");
            if (unit.State != UnitState.Serviceable) return Stale($"{unit.Tag} is {UnitRefusals.StateWords(unit.State)} by now");
            if (unit.Job is { } job) return Stale($"{unit.Tag} is kept for job {job} by now");
            if (latest.GetValueOrDefault(unit.Id) != measurement) return Stale($"{unit.Tag} was measured again since");
        }
        return valve.PressureClassId is null || (housing.PressureClassId is not null && housing.PressureClassId != valve.PressureClassId)
            ? Stale($"the class of {valve.Tag} or {housing.Tag} was changed since") : null;
    }

    internal static Refusal Stale(string what) => new("PROPOSAL_STALE", $"The proposal no longer holds: {what}. No pair was made.", "Let it go and ask for a new one.");

    public sealed class Handler(UnitDesk desk, StockDesk stock) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var place = await stock.Place(act.Location, cancellation);
            if (!place.Succeeded) return place.Refusal;
            var proposal = await context.Db.Proposals.Include(row => row.Lines.Where(line => line.State == ProposalState.Held).OrderBy(line => line.Id))
                .SingleOrDefaultAsync(row => row.Id == act.Proposal, cancellation);
            if (proposal is null) return Unknown(act.Proposal);
            if (proposal.HeldUntil <= context.Now || proposal.Lines.Count == 0) return AcceptProposal.Stale(proposal.Lines.Count == 0 ? "nothing of it is held any more" : "its time has run out");
            var ids = proposal.Lines.SelectMany(line => new[] { line.HousingId, line.ValveId }).ToList();
            var units = await desk.Units(ids, cancellation);
            var lines = Wanted(act, proposal, units);
            if (!lines.Succeeded) return lines.Refusal;
            var latest = (await context.Db.Measurements.Where(row => ids.Contains(row.UnitId)).GroupBy(row => row.UnitId)
                .Select(group => new { group.Key, Last = group.OrderByDescending(row => row.TakenAt).Select(row => row.Id).First() }).ToListAsync(cancellation))
                .ToDictionary(row => row.Key, row => row.Last);
            var codes = new List<string>();
            foreach (var line in lines.Result)
            {
                if (Decide(line, units[line.HousingId], units[line.ValveId], latest) is { } stale) return stale;
                var code = await desk.NewTag(act.CodePrefix.Trim() + units[line.HousingId].Tag, cancellation);
                if (!code.Succeeded) return code.Refusal;
                codes.Add(code.Result);
            }

            // From here every pair is made.
            var joined = new List<Joined>();
            foreach (var (line, code) in lines.Result.Zip(codes))
            {
                var (housing, valve) = (units[line.HousingId], units[line.ValveId]);
                line.State = ProposalState.Joined;
                await FormPair.Join(desk, act.RequestId, code, housing, valve, PairOrigin.BySelection, place.Result.Id, Cost(housing) + Cost(valve), act.Why, context, cancellation);
                joined.Add(new Joined(code, housing.Tag, valve.Tag));
            }
            proposal.Version++;
            await context.Db.SaveChangesAsync(cancellation);
            return new Answer(joined, proposal.Lines.Count - joined.Count);
        }

        private static Outcome<List<ProposalLineRow>> Wanted(Command act, ProposalRow proposal, Dictionary<int, UnitRow> units)
        {
            if (act.Housings is null) return proposal.Lines.ToList();
            var lines = new List<ProposalLineRow>();
            foreach (var tag in act.Housings.DistinctBy(Tag.KeyOf))
            {
                if (proposal.Lines.Find(line => units[line.HousingId].TagKey == Tag.KeyOf(tag)) is not { } line)
                    return new Refusal("NOT_IN_PROPOSAL", $"Proposal {proposal.Id} holds no pair with the housing '{tag.Trim()}'.", "Name housings of this proposal.");
                lines.Add(line);
            }
            return lines.Count > 0 ? lines : new Refusal("NOTHING_CHOSEN", "No housing is named.", "Name the housings whose pairs are accepted, or none at all for every pair.");
        }

        private static Money Cost(UnitRow unit) => unit.Part?.Cost ?? Money.Zero;
    }

    internal static Refusal Unknown(long proposal) => new("UNKNOWN_PROPOSAL", $"There is no proposal {proposal}.", "Give the number that was answered when it was held.");
}
