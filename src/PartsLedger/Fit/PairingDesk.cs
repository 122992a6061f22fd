using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Fit.Pairing;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>Finds proposals, for whoever only looks and for whoever holds one.</summary>
public sealed class PairingDesk(LedgerContext db, SizedUnits sizes, ShopSettings settings, TimeProvider clock)
{
    public async Task<Outcome<FamilyFit>> Family(string code, CancellationToken cancellation)
    {
        var key = Code.KeyOf(code);
        var family = await db.Families.AsNoTracking().SingleOrDefaultAsync(row => row.CodeKey == key, cancellation);
        if (family is not null) return FamilyFit.Of(family);
        var known = await db.Families.Select(row => row.Code).ToListAsync(cancellation);
        return new Refusal("UNKNOWN_FAMILY", $"There is no family '{code.Trim()}'.", Nearby(code, known));
    }

    public async Task<Outcome<ProposePairs.Answer>> Propose(ProposePairs.Query query, CancellationToken cancellation)
    {
        var found = await Family(query.Family, cancellation);
        if (!found.Succeeded) return found.Refusal;
        var family = found.Result;
        if (!family.Limits.Succeeded) return family.Limits.Refusal;
        var classes = await db.PressureClasses.AsNoTracking().ToDictionaryAsync(row => row.CodeKey, row => (row.Id, row.Code), cancellation);
        if (query.Class is not null && !classes.ContainsKey(Code.KeyOf(query.Class))) return UnknownClass(query.Class, classes.Values.Select(one => one.Code));
        foreach (var (name, pieces) in (query.First ?? []).Concat(query.Reserve ?? []))
        {
            if (!classes.ContainsKey(Code.KeyOf(name))) return UnknownClass(name, classes.Values.Select(one => one.Code));
            if (pieces is < 1 or > 1_000_000) return new Refusal("PIECES_RANGE", $"{pieces} pairs of {name} cannot be kept first.", "Give a number of pairs from 1 up.");
        }
        var classId = query.Class is null ? (int?)null : classes[Code.KeyOf(query.Class)].Id;

        var now = clock.GetUtcNow();
        var loose = db.Units.Where(row => row.FamilyId == family.Id && row.State == UnitState.Serviceable && row.PairId == null
            && (classId == null || row.PressureClassId == classId || (row.PressureClassId == null && row.Role == UnitRole.Housing)));
        var units = await sizes.Read(loose, family, GaugeUse.Sorting, DateOnly.FromDateTime(now.UtcDateTime), cancellation);
        var lines = await db.ProposalLines.Where(row => row.State == ProposalState.Held && row.Proposal.HeldUntil > now)
            .Select(row => new { row.HousingId, row.ValveId, row.ProposalId }).ToListAsync(cancellation);
        var held = new Dictionary<int, long>();
        foreach (var line in lines) held[line.HousingId] = held[line.ValveId] = line.ProposalId;

        var why = units.ToDictionary(unit => unit.Id, unit => WhyNot(unit, held));
        var housings = units.Where(unit => unit.Role == UnitRole.Housing && why[unit.Id] is null).ToList();
        var valves = units.Where(unit => unit.Role == UnitRole.Valve && why[unit.Id] is null).ToList();
        var factor = await settings.GuardFactor(db, cancellation);
        var limits = family.Limits.Result;

        var answer = PairingSolver.Solve(new PairingProblem(
            [.. housings.Select(unit => unit.Loose(factor))], [.. valves.Select(unit => unit.Loose(factor))],
            HalfNanometres.Of(limits.Min), HalfNanometres.Of(limits.Target), HalfNanometres.Of(limits.Max))
        {
            KeepTogether = query.KeepTogether ? CameTogether(housings, valves) : [],
            ServeFirst = [.. (query.First ?? []).Select(one => new ClassDemand(classes[Code.KeyOf(one.Class)].Id, one.Pieces))],
            Reserve = [.. (query.Reserve ?? []).Select(one => new ClassReserve(classes[Code.KeyOf(one.Class)].Id, one.Pieces))],
        }, cancellation);

        var paired = answer.Pairs.Select(pair => (Housing: housings[pair.Housing], Valve: valves[pair.Valve])).ToList();
        var inPairs = paired.SelectMany(pair => new[] { pair.Housing.Id, pair.Valve.Id }).ToHashSet();
        var left = housings.Concat(valves).Where(unit => !inPairs.Contains(unit.Id)).ToList();
        foreach (var unit in left) why[unit.Id] = NoneLeft(unit, limits, Guard.Of(unit.Size!.Form, unit.Uncertainty, factor));
        ProposePairs.Unpaired[] UnpairedOf(UnitRole role) =>
            [.. units.Where(unit => unit.Role == role && !inPairs.Contains(unit.Id)).Select(unit => new ProposePairs.Unpaired(unit.Tag, why[unit.Id]!))];
        var shown = new ProposePairs.Shown(family.Code, query.Class is null ? null : classes[Code.KeyOf(query.Class)].Code,
            [.. answer.Pairs.Select((pair, at) => new ProposePairs.Pair(paired[at].Housing.Tag, paired[at].Valve.Tag, HalfNanometres.ToMicrometres(pair.Clearance), HalfNanometres.ToMicrometres(pair.Deviation)))],
            answer.Count, HalfNanometres.ToSquareMicrometres(answer.SumSquaredDeviation), UnpairedOf(UnitRole.Housing), UnpairedOf(UnitRole.Valve));
        return new ProposePairs.Answer(shown, answer.Status == PairingStatus.Optimal, HalfNanometres.ToSquareMicrometres(answer.LeastSumBound),
            [.. units.SelectMany(unit => unit.Warnings).Select(warning => $"{warning.Sentence} {warning.WhatToDo}").Distinct()], family, factor, paired, left);
    }

    private static List<(int Housing, int Valve)> CameTogether(List<SizedUnit> housings, List<SizedUnit> valves)
    {
        var byCore = valves.Index().Where(one => one.Item.CoreId is not null).GroupBy(one => one.Item.CoreId!.Value).ToDictionary(core => core.Key, core => core.First().Index);
        return [.. housings.Index().Where(one => one.Item.CoreId is { } core && byCore.ContainsKey(core)).DistinctBy(one => one.Item.CoreId)
            .Select(one => (one.Index, byCore[one.Item.CoreId!.Value]))];
    }

    private static string? WhyNot(SizedUnit unit, Dictionary<int, long> held) =>
        unit.Refused is { } refused ? refused.Sentence
        : unit.Job is { } job ? $"It is kept for job {job}."
        : held.TryGetValue(unit.Id, out var proposal) ? $"Proposal {proposal} holds it."
        : unit is { Role: UnitRole.Valve, ClassId: null } ? "Its pressure class is not known."
        : null;

    private static string NoneLeft(SizedUnit unit, ClearanceLimits limits, Guard guard)
    {
        var margin = Length.FromNanometres((guard.HalfNanometres + 1) / 2);
        var size = unit.Size!.Size;
        return unit.Role == UnitRole.Housing
            ? $"No valve is left that fits: it needs one from {MeasureText.Millimetres(size - limits.Max + margin)} to {MeasureText.Millimetres(size - limits.Min - margin)}."
            : $"No housing is left that fits: it needs a bore from {MeasureText.Millimetres(size + limits.Min + margin)} to {MeasureText.Millimetres(size + limits.Max - margin)}.";
    }

    private static Refusal UnknownClass(string name, IEnumerable<string> known) =>
        new("UNKNOWN_CLASS", $"There is no pressure class '{name.Trim()}'.", Nearby(name, known));

    private static string Nearby(string wanted, IEnumerable<string> known) => Nearest.To(wanted.Trim(), known) is { Count: > 0 } near
        ? $"The nearest known ones are {string.Join(", ", near)}." : "None is on the books yet: import them first.";
}
