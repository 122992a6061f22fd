using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>
/// A small invented catalogue and a question to it, the same for the same seed. Biased to the edges of the rules: kits that overlap and
/// nest, equal and zero costs, parts that come only out of packs, wrong classes, old stock, needed packs, fractions.
/// </summary>
internal sealed class RandomCatalogue
{
    private const int MostSupplies = 25;

    private readonly Random _random;
    private readonly CatalogueDraft _draft = new();
    private readonly List<string> _current = [];
    private readonly List<string> _packs = [];
    private readonly decimal[] _costs;
    private int _supplies;

    private RandomCatalogue(int seed)
    {
        _random = new(seed);
        _costs = Pick<decimal[]>([0], [1], [0, 1, 2], [1, 2, 3, 5], [0.5m, 4.80m, 7.25m, 12.10m, 0.0125m], [2, 4, 8, 15, 40, 0]);
    }

    public static (KitCatalogue Catalogue, KitQuestion Question) Of(int seed) => new RandomCatalogue(seed).Built();

    private (KitCatalogue, KitQuestion) Built()
    {
        if (Chance(40)) _draft.Selective();
        AddCurrentParts(Pick(3, 4, 5, 6, 7, 9, 11));
        AddPacks(Pick(0, 1, 2, 3, 5, 6, 7, 8));
        PutPackedOnlyPartsInPacks();
        AddPositions();
        AddStrayOldNumbers();
        AddPairs();
        int[] worn = [.. _draft.Positions.Where(_ => Chance(25)).Select(position => position.Number)];
        return (_draft.Finished(), CatalogueDraft.Ask(Pick(Enum.GetValues<JobScope>()), [.. worn.Concat(worn.Take(1))]));
    }

    private void AddCurrentParts(int count)
    {
        for (var at = 0; at < count; at++)
        {
            // Housing and valve come first, so that selective families usually have both.
            var kind = at == 0 && Chance(60) ? PartKind.Housing : at == 1 && Chance(70) ? PartKind.Valve
                : Pick(PartKind.Seal, PartKind.Seal, PartKind.Rotating, PartKind.Plate, PartKind.Spring, PartKind.Valve,
                    PartKind.Hardware, PartKind.Fluid);
            var number = $"C-{at + 1:00}";
            AddPart(number, kind, Pick(
                PartService.Separate, PartService.Separate, PartService.Separate, PartService.Separate, PartService.Separate,
                PartService.KitOnly, PartService.KitOnly, PartService.AssemblyOnly, Chance(20) ? PartService.None : PartService.Separate),
                SomeClass(wrong: 2));
            _current.Add(number);
        }
    }

    private void AddPacks(int count)
    {
        for (var at = 0; at < count && _supplies < MostSupplies - 6; at++)
        {
            var number = $"K-{at + 1:00}";
            var kind = Pick(PartKind.Kit, PartKind.Kit, PartKind.Kit, PartKind.Assembly, PartKind.Assembly, PartKind.Hardware,
                PartKind.Seal);
            AddPart(number, kind, Pick(
                PartService.Separate, PartService.Separate, PartService.Separate, PartService.Separate, PartService.KitOnly,
                PartService.AssemblyOnly, PartService.None), SomeClass(wrong: 5), dearer: Pick(1, 1, 2, 4));
            HashSet<string> inside = [];
            for (var entries = Pick(1, 2, 3, 4, 6); entries > 0; entries--) inside.Add(Pick([.. _current]));
            if (kind == PartKind.Assembly && Chance(60)) inside.UnionWith(_current.Take(2));
            if (_packs.Count > 0 && Chance(40)) inside.Add(Pick([.. _packs]));
            if (_packs.Count > 1 && Chance(20)) inside.Add(_packs[^1]);
            foreach (var part in inside) Put(number, part);
            if (Chance(30)) Put(number, Extra($"E-{at + 1:00}", SomeClass(wrong: 20)));
            _packs.Add(number);
        }
    }

    /// <summary>A part that comes only out of packs is mostly in one, or it would nearly always stay uncovered.</summary>
    private void PutPackedOnlyPartsInPacks()
    {
        foreach (var part in _current.Where(_ => _packs.Count > 0 && Chance(70)))
            if (_draft.Parts[new(part)].Service is PartService.KitOnly or PartService.AssemblyOnly && Pick([.. _packs]) is var pack
                && !Holds(pack, part))
                Put(pack, part);
    }

    private void AddPositions()
    {
        foreach (var current in _current)
            for (var times = Chance(15) ? 2 : 1; times > 0; times--)
                AddPosition(current);
        // Rarely a position is itself a pack: a bag of screws, a rotating element that is opened for its parts elsewhere.
        if (_packs.Count > 0 && Chance(30)) AddPosition(Pick([.. _packs]));
    }

    private void AddPosition(string current)
    {
        var named = Chance(35) && _supplies < MostSupplies - 3 ? OldNumberOf(current, Pick(1, 1, 2, 3)) : current;
        var quantity = _draft.Parts[new(named)].Kind == PartKind.Fluid
            ? Pick(0.05m, 0.5m, 0.95m, 1, 1.2m, 2.5m) : Pick(1, 1, 1, 1, 2, 2, 3, 4, 12);
        if (_packs.Contains(current)) quantity = Pick(1, 1, 2);
        _draft.Needs(named, quantity, Pick(Enum.GetValues<PartGroup>()), Chance(60) ? RenewRule.Always : RenewRule.IfWorn,
            position: (_draft.Positions.Count * 3) + 1);
    }

    /// <summary>A number that became <paramref name="current"/> by so many steps, the last of them perhaps into a set.</summary>
    private string OldNumberOf(string current, int steps)
    {
        var part = _draft.Parts[new(current)];
        for (var next = current; ; next = $"{next}X")
        {
            var old = $"{next}X";
            if (_draft.Parts.ContainsKey(new(old))) return old;
            var rule = Pick(Enum.GetValues<SupersessionRule>());
            // An old number belongs to the class of what follows it; only the oldest may once have been of another.
            AddPart(old, part.Kind, Pick(Enum.GetValues<PartService>()), steps == 1 && Chance(10) ? "B" : part.PressureClass,
                available: Pick(0, 0.5m, 1, 1, 2, 2.7m, 3, 12));
            _draft.Follows(
                Spelled(old), Spelled(next), rule, part.Kind == PartKind.Fluid && steps == 1 ? Pick(1, 0.5m, 2) : Pick(1, 1, 1, 2, 3));
            if (next == current && Chance(20) && Pick([.. _current]) is var other && other != current)
                _draft.Follows(old, other, rule, Pick(1, 1, 2));
            if (_packs.Contains(current) && Chance(50)) _draft.Holds(old, Pick([.. _current]), 1);
            if (--steps == 0) return old;
        }
    }

    private void AddStrayOldNumbers()
    {
        for (var count = Pick(0, 0, 1, 2); count > 0 && _supplies < MostSupplies - 1; count--)
        {
            var old = OldNumberOf(Pick([.. _current, .. _packs]), 1);
            if (_packs.Count > 0 && Chance(30) && !Holds(_packs[^1], old)) Put(_packs[^1], old);
        }
    }

    private void AddPairs()
    {
        for (var count = Chance(_draft.ValveFit == ValveFit.Selective ? 60 : 15) ? Pick(1, 2, 3) : 0; count > 0; count--)
        {
            string[] housings = [_current[0], .. _draft.Parts.Values.Where(part => part.Kind == PartKind.Housing)
                .Select(part => part.Number.Text)];
            string[] valves = [_current[1], .. _draft.Parts.Values.Where(part => part.Kind == PartKind.Valve)
                .Select(part => part.Number.Text)];
            _draft.Pair($"MP-{count}", Pick(housings), Pick(valves), Pick(_costs) * Pick(1, 2, 3),
                Chance(80) ? CatalogueDraft.Family : "F2", Chance(80) ? CatalogueDraft.Class : "B");
        }
    }

    private void AddPart(
        string number, PartKind kind, PartService service, string? pressureClass, int dearer = 1, decimal? available = null)
    {
        _draft.Part(number, Pick(_costs) * dearer, kind, service, available ?? Pick(0, 0, 0, 1, 1, 2, 2.7m, 3, 5, 100), Chance(85),
            pressureClass);
        _supplies++;
    }

    private string Extra(string number, string? pressureClass)
    {
        AddPart(number, PartKind.Hardware, PartService.Separate, pressureClass);
        return number;
    }

    private void Put(string pack, string part) => _draft.Holds(
        Spelled(pack), Spelled(part),
        _draft.Parts[new(part)].Kind == PartKind.Fluid ? Pick(0.5m, 0.95m, 1)
            : _packs.Contains(part) ? Pick(1, 1, 2)
            : Pick(1, 1, 1, 2, 3, 12));

    private bool Holds(string pack, string part) =>
        _draft.Contents.Any(content => content.Pack == new PartNumber(pack) && content.Part == new PartNumber(part));

    /// <summary>The same number as another sheet may write it.</summary>
    private string Spelled(string number) => Chance(10) ? number.Replace('-', ' ').ToLowerInvariant() : number;

    private string? SomeClass(int wrong) => Chance(wrong) ? "B" : Chance(35) ? CatalogueDraft.Class : null;

    private bool Chance(int percent) => _random.Next(100) < percent;

    private T Pick<T>(params T[] choices) => choices[_random.Next(choices.Length)];
}
