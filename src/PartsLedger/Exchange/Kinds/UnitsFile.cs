using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>A tagged housing or valve as a row says it, with the tag it is fitted to.</summary>
public sealed record TaggedUnit(UnitRow Unit, string? PairedWith, string? PairedWithKey, LocationKind? PlaceKind);

/// <summary>
/// Tagged housings and valves. New ones are taken; two that name each other (or of which one names the other) become a pair, as received
/// when both came out of one core. A unit that is already on the books is left as it is: where it goes and what happens to it are acts.
/// </summary>
public sealed class UnitsFile : FileKind<TaggedUnit, string>
{
    private Register<Named> _families = null!;
    private Register<Named> _classes = null!;
    private Register<NamedPart> _parts = null!;
    private Register<Named> _locations = null!;
    private Register<Named> _cores = null!;
    private Dictionary<int, LocationKind> _placeKinds = [];

    public override string Name => "units";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("tag"), Column.Needed("role"), Column.Needed("family"), Column.Optional("pressure_class"), Column.Optional("part"),
        Column.Optional("location"), Column.Optional("core"), Column.Optional("shim_count"),
        Column.Measure("shim_stack", needed: false, LengthUnits.Millimetre, LengthUnits.All), Column.Optional("paired_with"),
    ];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation)
    {
        (_families, _classes, _parts) = (await run.Registers.Families(), await run.Registers.PressureClasses(), await run.Registers.Parts());
        (_locations, _cores) = (await run.Registers.Locations(), await run.Registers.Cores());
        _placeKinds = await run.Db.Locations.AsNoTracking().ToDictionaryAsync(row => row.Id, row => row.Kind, cancellation);
    }

    protected override TaggedUnit Read(RowCells cells)
    {
        var tag = cells.Tag("tag");
        var other = cells.IsEmpty("paired_with") ? (Text: null, Key: null) : ((string? Text, string? Key))cells.Tag("paired_with");
        if (other.Key is not null && other.Key == tag.Key) cells.Reject("paired_with", "A unit cannot be paired with itself.");
        var (role, stack) = (cells.Word<UnitRole>("role"), cells.OptionalLength("shim_stack"));
        if (stack < Length.Zero) cells.Reject("shim_stack", "A shim stack is zero or thicker.");
        var location = _locations.FindIfGiven(cells, "location");
        return new TaggedUnit(new UnitRow
        {
            Tag = tag.Text, TagKey = tag.Key, Role = role, FamilyId = _families.Find(cells, "family")?.Id ?? 0,
            PressureClassId = _classes.FindIfGiven(cells, "pressure_class")?.Id, PartId = _parts.FindIfGiven(cells, "part")?.Id,
            LocationId = location?.Id, CoreId = _cores.FindIfGiven(cells, "core")?.Id, ShimCount = cells.OptionalWhole("shim_count", 0, 50), ShimStack = stack,
            State = location is not null && _placeKinds[location.Id] == LocationKind.Quarantine ? UnitState.Quarantine : UnitState.Serviceable,
        }, other.Text, other.Key, location is null ? null : _placeKinds[location.Id]);
    }

    protected override string KeyOf(TaggedUnit row) => row.Unit.TagKey;

    protected override async Task Apply(KindRun run, IReadOnlyList<Judged<TaggedUnit, string>> rows, CancellationToken cancellation)
    {
        var known = await run.Db.Units.AsNoTrackingWithIdentityResolution().Include(row => row.Pair!.Halves).ToDictionaryAsync(row => row.TagKey, StringComparer.Ordinal, cancellation);
        var taken = await TakenTags.Read(run.Db, cores: true, cancellation);
        var byKey = rows.ToDictionary(row => row.Key, StringComparer.Ordinal);
        foreach (var row in rows) Judge(run, row, known, taken);
        foreach (var row in rows.Where(row => row.Row.PairedWithKey is not null && !known.ContainsKey(row.Key))) JudgePair(run, row, byKey, known, taken);

        var fresh = rows.Where(row => !run.IsRejected(row.Line) && !known.ContainsKey(row.Key)).ToList();
        var fitted = Fitted(run, fresh);
        foreach (var row in rows)
            if (run.IsRejected(row.Line)) run.NameRejected(Name, row.Key, row.Line);
            else if (known.ContainsKey(row.Key)) run.Unchanged++;
            else run.New++;
        await Add(run, fresh, fitted, cancellation);
    }

    private static void Judge(
        KindRun run, Judged<TaggedUnit, string> row, Dictionary<string, UnitRow> known, Dictionary<string, string> taken)
    {
        var unit = row.Row.Unit;
        if (taken.TryGetValue(row.Key, out var by)) run.Reject(row.Line, "tag", $"The tag {unit.Tag} is already on {by}; no tag is used twice.");
        if (known.TryGetValue(row.Key, out var before))
        {
            if ((before.Role, before.FamilyId, before.PartId, before.CoreId) != (unit.Role, unit.FamilyId, unit.PartId, unit.CoreId))
                run.Reject(row.Line, "tag", $"{unit.Tag} is on the books as another unit; a file cannot change its role, family, part or core.");
            else if (before.PressureClassId != unit.PressureClassId)
                run.Reject(row.Line, "pressure_class", $"The pressure class of {unit.Tag} is not a file's to change: it is re-rated on the bench, by a supervisor.");
            else if (row.Row.PairedWithKey is { } other && before.Pair?.Halves.Find(half => half.Id != before.Id)?.TagKey != other)
                run.Reject(row.Line, "paired_with", $"{unit.Tag} is on the books and not paired with {row.Row.PairedWith}; pairing and parting are acts of their own.");
        }
        else if (unit.LocationId is null) run.Reject(row.Line, "location", "A unit that is new needs a place.");
    }

    private static void JudgePair(
        KindRun run, Judged<TaggedUnit, string> row, Dictionary<string, Judged<TaggedUnit, string>> byKey, Dictionary<string, UnitRow> known,
        Dictionary<string, string> taken)
    {
        var (unit, name) = (row.Row.Unit, row.Row.PairedWith);
        if (known.ContainsKey(row.Row.PairedWithKey!))
        {
            run.Reject(row.Line, "paired_with", $"{name} is already on the books; pairing with it is an act of its own.");
            return;
        }
        if (!byKey.TryGetValue(row.Row.PairedWithKey!, out var other) || run.IsRejected(other.Line))
        {
            run.Reject(row.Line, "paired_with", other is null ? $"There is no unit {name} in this file." : $"The row of {name} was rejected (line {other.Line}); correct it first.");
            return;
        }
        var partner = other.Row.Unit;
        var (housing, valve) = unit.Role == UnitRole.Housing ? (unit, partner) : (partner, unit);
        string? fault = unit.Role == partner.Role ? $"{unit.Tag} and {partner.Tag} are both a {Words.Of(unit.Role)}; a pair is a housing and a valve."
            : unit.FamilyId != partner.FamilyId ? $"{unit.Tag} and {partner.Tag} are of two families."
            : valve.PressureClassId is null ? $"Valve {valve.Tag} has no pressure class; a pair needs one."
            : housing.PressureClassId is not null && housing.PressureClassId != valve.PressureClassId ? $"{housing.Tag} and {valve.Tag} are of two pressure classes."
            : other.Row.PairedWithKey is { } back && back != row.Key ? $"{partner.Tag} is paired with {other.Row.PairedWith}, not with {unit.Tag}."
            : unit.LocationId != partner.LocationId ? $"{unit.Tag} and {partner.Tag} are in two places; a pair is in one."
            : taken.ContainsKey(PairKey(housing)) ? $"The pair's code {PairCode(housing)} is already taken." : null;
        if (fault is not null) run.Reject(row.Line, "paired_with", fault);
    }

    /// <summary>Pairs of rows of which at least one names the other and both are taken; two that claim one half are both refused.</summary>
    private static List<(UnitRow Housing, UnitRow Valve)> Fitted(KindRun run, List<Judged<TaggedUnit, string>> fresh)
    {
        var partnerOf = new Dictionary<string, (string Key, int Line)>(StringComparer.Ordinal);
        foreach (var row in fresh.Where(row => row.Row.PairedWithKey is not null))
            foreach (var (one, two) in ((string, string)[])[(row.Key, row.Row.PairedWithKey!), (row.Row.PairedWithKey!, row.Key)])
                if (!partnerOf.TryAdd(one, (two, row.Line)) && partnerOf[one].Key != two)
                    run.Reject(row.Line, "paired_with", $"Two rows claim one half: see also line {partnerOf[one].Line}.");
        fresh.RemoveAll(row => run.IsRejected(row.Line));
        var byKey = fresh.ToDictionary(row => row.Key, row => row.Row.Unit, StringComparer.Ordinal);
        return [.. byKey.Values.Where(unit => unit.Role == UnitRole.Housing && partnerOf.TryGetValue(unit.TagKey, out var partner) && byKey.ContainsKey(partner.Key))
            .Select(housing => (housing, byKey[partnerOf[housing.TagKey].Key]))];
    }

    private static async Task Add(
        KindRun run, List<Judged<TaggedUnit, string>> fresh, List<(UnitRow Housing, UnitRow Valve)> fitted, CancellationToken cancellation)
    {
        var (id, now, who) = ($"import-{Guid.NewGuid():n}", run.Context.Now, run.Context.Caller.Name);
        var pairs = new List<(PairRow Pair, UnitRow Housing, UnitRow Valve)>();
        foreach (var (housing, valve) in fitted)
        {
            pairs.Add((new PairRow
            {
                Code = PairCode(housing), CodeKey = PairKey(housing), FamilyId = housing.FamilyId, PressureClassId = valve.PressureClassId!.Value,
                Origin = housing.CoreId is not null && housing.CoreId == valve.CoreId ? PairOrigin.AsReceived : PairOrigin.BySelection,
                State = PairState.Together, LocationId = housing.LocationId,
            }, housing, valve));
        }
        run.Db.Pairs.AddRange(pairs.Select(pair => pair.Pair));
        await run.Db.SaveChangesAsync(cancellation);
        foreach (var (pair, housing, valve) in pairs)
            foreach (var half in (UnitRow[])[housing, valve])
            {
                half.PairId = pair.Id;
                half.LocationId = null;
                half.State = UnitState.Serviceable;
            }
        run.Db.Units.AddRange(fresh.Select(row => row.Row.Unit));
        await run.Db.SaveChangesAsync(cancellation);
        foreach (var row in fresh)
            run.Db.UnitEvents.Add(new UnitEventRow { UnitId = row.Row.Unit.Id, CoreId = row.Row.Unit.CoreId, What = "entered", At = now, Who = who, RequestId = id });
        foreach (var (pair, housing, valve) in pairs)
            foreach (var half in (UnitRow[])[housing, valve])
                run.Db.UnitEvents.Add(new UnitEventRow
                {
                    UnitId = half.Id, PairId = pair.Id, CoreId = half.CoreId, What = "paired", Detail = $"pair {pair.Code}: {housing.Tag} and {valve.Tag}",
                    At = now, Who = who, RequestId = id,
                });
        await run.Db.SaveChangesAsync(cancellation);
        run.Db.ChangeTracker.Clear();
    }

    private static string PairCode(UnitRow housing) => $"P-{housing.Tag}";

    private static string PairKey(UnitRow housing) => Tag.KeyOf(PairCode(housing));
}
