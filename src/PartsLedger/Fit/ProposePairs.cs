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

/// <summary>
/// Which loose valve shall go into which loose housing: the greatest number of pairs that fit, and among those the least deviation from the
/// best clearance. A proposal changes nothing; matched pairs are not loose and stay as they are.
/// </summary>
public static class ProposePairs
{
    /// <param name="Class">Only valves of this class; null for every class, each housing then going where it helps most.</param>
    /// <param name="KeepTogether">Loose halves that came out of one core and still fit are proposed to each other first.</param>
    /// <param name="First">Classes whose jobs are served before the rest, the most urgent first. Never costs a pair.</param>
    /// <param name="Reserve">Housings kept for a class's valves.</param>
    public sealed record Query(
        string Family, string? Class = null, bool KeepTogether = false, IReadOnlyList<ClassPieces>? First = null, IReadOnlyList<ClassPieces>? Reserve = null)
        : IQuery<Answer>;

    public sealed record ClassPieces(string Class, int Pieces);

    /// <param name="ClearanceUm">At 20 °C, in micrometres.</param>
    /// <param name="DeviationUm">Clearance less target.</param>
    public sealed record Pair(string Housing, string Valve, decimal ClearanceUm, decimal DeviationUm);

    public sealed record Unpaired(string Tag, string Why);

    /// <summary>The proposal as the contract shows it.</summary>
    public sealed record Shown(
        string Family, string? Class, IReadOnlyList<Pair> Pairs, int Count, decimal SumSquaredDeviationUm2, IReadOnlyList<Unpaired> UnpairedHousings,
        IReadOnlyList<Unpaired> UnpairedValves);

    /// <param name="IsLeast">The sum of squared deviations is proved the least; else it is at least <paramref name="LeastSumUm2"/>.</param>
    /// <param name="Warnings">What to know of the gauges.</param>
    /// <param name="Halves">The two of each pair, in the same order.</param>
    /// <param name="Left">What is left over and could be paired.</param>
    public sealed record Answer(
        Shown Shown, bool IsLeast, decimal LeastSumUm2, IReadOnlyList<string> Warnings, FamilyFit Family, IReadOnlyList<(SizedUnit Housing, SizedUnit Valve)> Halves,
        IReadOnlyList<SizedUnit> Left);

    public sealed class Handler(PairingDesk desk) : IQueryHandler<Query, Answer>
    {
        public Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation) => desk.Propose(query, cancellation);
    }
}

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

        // In half-nanometres, in which half of any form is whole.
        LooseHalf Half(SizedUnit unit) => new(2 * unit.Size!.Size.Nanometres, Guard.Of(unit.Size.Form, unit.Uncertainty, factor).HalfNanometres, unit.ClassId ?? 0);
        var answer = PairingSolver.Solve(new PairingProblem(
            [.. housings.Select(Half)], [.. valves.Select(Half)], 2 * limits.Min.Nanometres, 2 * limits.Target.Nanometres, 2 * limits.Max.Nanometres)
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
            [.. answer.Pairs.Select((pair, at) => new ProposePairs.Pair(paired[at].Housing.Tag, paired[at].Valve.Tag, Micrometres(pair.Clearance), Micrometres(pair.Deviation)))],
            answer.Count, SquareMicrometres(answer.SumSquaredDeviation), UnpairedOf(UnitRole.Housing), UnpairedOf(UnitRole.Valve));
        return new ProposePairs.Answer(shown, answer.Status == PairingStatus.Optimal, SquareMicrometres(answer.LeastSumBound),
            [.. units.SelectMany(unit => unit.Warnings).Select(warning => $"{warning.Sentence} {warning.WhatToDo}").Distinct()], family, paired, left);
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

    private static decimal Micrometres(long halfNanometres) => halfNanometres / 2_000m;

    private static decimal SquareMicrometres(UInt128 squareHalfNanometres) => (decimal)squareHalfNanometres / 4_000_000m;

    private static Refusal UnknownClass(string name, IEnumerable<string> known) =>
        new("UNKNOWN_CLASS", $"There is no pressure class '{name.Trim()}'.", Nearby(name, known));

    private static string Nearby(string wanted, IEnumerable<string> known) => Nearest.To(wanted.Trim(), known) is { Count: > 0 } near
        ? $"The nearest known ones are {string.Join(", ", near)}." : "None is on the books yet: import them first.";
}
