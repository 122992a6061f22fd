using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Tests.Kits.Reference;

// All lines together: do their pieces cover what the lines claim, and is the rest uncovered or surplus, as stated?
internal sealed partial class KitAnswerChecker
{
    /// <summary>
    /// A line does not say how many of its pieces were kept whole because a pack inside is itself needed; every split is tried, and the
    /// answer stands if one of them explains it. Otherwise the breaches of the split that comes nearest.
    /// </summary>
    private List<string> BreachesOfCover(IReadOnlyList<CheckedLine> lines)
    {
        List<string>? fewest = null;
        foreach (var kept in Splits([.. lines.Select(line => KeepsAnyPack(line) ? line.Line.Quantity : 0)]))
        {
            var breaches = BreachesOfSplit(lines, kept);
            if (fewest is null || breaches.Count < fewest.Count) fewest = breaches;
            if (fewest.Count == 0) break;
        }
        return fewest ?? [];
    }

    private List<string> BreachesOfSplit(IReadOnlyList<CheckedLine> lines, long[] kept)
    {
        var breaches = new List<string>();
        var covering = new Dictionary<(int Line, PartNumber Item), long>();
        var outOfPacks = new Dictionary<PartNumber, long>();
        for (var at = 0; at < lines.Count; at++)
        {
            foreach (var (keepWhole, pieces) in new[] { (true, kept[at]), (false, lines[at].Line.Quantity - kept[at]) })
                foreach (var piece in Out(lines[at], keepWhole))
                {
                    var thousandths = piece.Thousandths * pieces;
                    if (thousandths == 0) continue;
                    if (lines[at].IsPack) outOfPacks[piece.Number] = outOfPacks.GetValueOrDefault(piece.Number) + thousandths;
                    if (IsWanted(piece.Number) && MayServe(piece, lines[at]))
                        covering[(at, piece.Number)] = covering.GetValueOrDefault((at, piece.Number)) + thousandths;
                }
        }
        BreachesOfSurplus(outOfPacks, breaches);
        foreach (var item in _wanted.Keys.Select(key => key.Item).Distinct())
            BreachesOfUncovered(item, covering.Where(entry => entry.Key.Item == item).Sum(entry => entry.Value), breaches);
        if (breaches.Count == 0) BreachesOfClaims(lines, covering, breaches);
        return breaches;
    }

    private void BreachesOfSurplus(Dictionary<PartNumber, long> outOfPacks, List<string> breaches)
    {
        var stated = _answer.Surplus.ToDictionary(surplus => new PartNumber(surplus.Part), surplus => surplus.Quantity.Thousandths);
        foreach (var number in outOfPacks.Keys.Union(stated.Keys))
        {
            var beyond = Math.Max(0, outOfPacks.GetValueOrDefault(number) - WantedOf(number));
            if (beyond != stated.GetValueOrDefault(number))
                breaches.Add($"the surplus of {number} is {beyond} thousandths, not {stated.GetValueOrDefault(number)}");
        }
    }

    private void BreachesOfUncovered(PartNumber item, long brought, List<string> breaches)
    {
        var stated = _answer.Uncovered.Where(uncovered => new PartNumber(uncovered.Part) == item).ToArray();
        foreach (var uncovered in stated)
        {
            var most = _wanted.GetValueOrDefault((uncovered.Position, item));
            if (uncovered.Quantity.Thousandths < 1 || uncovered.Quantity.Thousandths > most)
                breaches.Add($"position {uncovered.Position} cannot miss that many of {item}");
            if (string.IsNullOrWhiteSpace(uncovered.Why)) breaches.Add($"uncovered {item} does not say why");
        }
        var missing = Math.Max(0, WantedOf(item) - brought);
        if (stated.Sum(uncovered => uncovered.Quantity.Thousandths) != missing)
            breaches.Add($"{missing} thousandths of {item} are uncovered, not {stated.Sum(uncovered => uncovered.Quantity.Thousandths)}");
    }

    private bool MayServe(OpenedPiece piece, CheckedLine line)
    {
        var part = _catalogue.Parts[piece.Number];
        if (part.Service == PartService.None) return false;
        if (part.Service == PartService.KitOnly && !piece.OutOf.Overlaps([PartKind.Kit, PartKind.Assembly])) return false;
        if (part.Service == PartService.AssemblyOnly && !piece.OutOf.Contains(PartKind.Assembly)) return false;
        return part.Kind != PartKind.Valve || _catalogue.Variant.ValveFit != ValveFit.Selective
            || Out(line, keepWhole: false).Any(other => IsOwnHousing(other.Number));
    }

    private bool IsOwnHousing(PartNumber number)
    {
        foreach (var position in _catalogue.Variant.Positions)
        {
            if (_catalogue.Parts[position.Part].Kind != PartKind.Housing) continue;
            HashSet<PartNumber> chain = [position.Part];
            for (var known = 0; known < chain.Count;)
            {
                known = chain.Count;
                chain.UnionWith(_catalogue.Supersessions.Where(step => chain.Contains(step.Old)).Select(step => step.New).ToArray());
            }
            if (chain.Contains(number)) return true;
        }
        return false;
    }

    private List<OpenedPiece> Out(CheckedLine line, bool keepWhole)
    {
        var pieces = new List<OpenedPiece>();
        HashSet<PartKind> start = line.InAssembly ? [PartKind.Assembly] : [];
        var open = new Stack<OpenedPiece>(line.Roots.Select(root => new OpenedPiece(root.Number, root.Thousandths, start)));
        while (open.TryPop(out var piece))
        {
            if (!HasContents(piece.Number) || (keepWhole && IsWanted(piece.Number)))
            {
                pieces.Add(piece);
                continue;
            }
            HashSet<PartKind> outOf = [.. piece.OutOf, _catalogue.Parts[piece.Number].Kind];
            foreach (var content in _catalogue.Contents)
                if (content.Pack == piece.Number) open.Push(new(content.Part, Times(piece.Thousandths, content.Quantity), outOf));
        }
        return pieces;
    }

    private bool KeepsAnyPack(CheckedLine line) => Out(line, keepWhole: true).Any(piece => HasContents(piece.Number));

    private bool IsWanted(PartNumber number) => WantedOf(number) > 0;

    private long WantedOf(PartNumber item) => _wanted.Where(entry => entry.Key.Item == item).Sum(entry => entry.Value);

    private static IEnumerable<long[]> Splits(long[] most)
    {
        var split = new long[most.Length];
        while (true)
        {
            yield return split;
            var at = 0;
            while (at < split.Length && split[at] == most[at]) split[at++] = 0;
            if (at == split.Length) yield break;
            split[at]++;
        }
    }

    /// <param name="OutOf">The kinds of the packs it comes out of.</param>
    private sealed record OpenedPiece(PartNumber Number, long Thousandths, HashSet<PartKind> OutOf);
}
