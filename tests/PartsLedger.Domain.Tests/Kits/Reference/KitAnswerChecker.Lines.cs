using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Kits.Reference;

// Line by line: may it be offered, in this quantity, at this price?
internal sealed partial class KitAnswerChecker
{
    private CheckedLine CheckLine(KitLine line)
    {
        Require(line.Quantity >= 1, $"line {line.Part} has no pieces");
        Require(line.Covers.Count > 0, $"line {line.Part} covers nothing");
        Require(IsAscending(line.Covers), $"line {line.Part} does not name its positions in order");
        Require(line.Covers.All(_renewed.ContainsKey), $"line {line.Part} covers a position that is not renewed");
        Require(!string.IsNullOrWhiteSpace(line.Why), $"line {line.Part} does not say why");
        Require(line.Cost.TenThousandths == line.UnitCost.TenThousandths * line.Quantity, $"line {line.Part} does not multiply its price");
        Require(line.Short == Math.Max(0, line.Quantity - (line.Available.Thousandths / 1000)),
            $"line {line.Part} miscounts what is short");

        var pair = _catalogue.Pairs.FirstOrDefault(pair => pair.Tag == line.Part);
        if (pair is not null) return CheckPair(line, pair);
        if (_catalogue.Parts.TryGetValue(new(line.Part), out var part)) return CheckPart(line, part);
        Require(false, $"line {line.Part} is neither a part nor a pair");
        return new(line, false, false, []);
    }

    private CheckedLine CheckPair(KitLine line, PairSupply pair)
    {
        Require(pair.Family == _catalogue.Variant.Family && pair.PressureClass == _catalogue.Variant.PressureClass,
            $"pair {line.Part} is of another family or class");
        Require(line.Quantity == 1, $"pair {line.Part} is used more than once");
        Require(line.Available.Thousandths == 1000, $"pair {line.Part} is not shown as one at hand");
        Require(line.UnitCost == pair.Cost, $"pair {line.Part} has another price");
        RequireClass(line, [pair.Housing, pair.Valve]);
        return new(line, IsPack: true, InAssembly: true, [(pair.Housing, 1000), (pair.Valve, 1000)]);
    }

    private CheckedLine CheckPart(KitLine line, KitPart part)
    {
        var rules = _catalogue.Supersessions.Where(step => step.Old == part.Number).Select(step => step.Rule).ToArray();
        var isUsedUp = rules.Contains(SupersessionRule.UseUp);
        Require(isUsedUp || rules.Length == 0, $"line {line.Part} was replaced and no longer counts");
        Require(isUsedUp || part.Service == PartService.Separate, $"line {line.Part} is not to be had by itself");
        Require(line.Name == part.Name && line.Kind == Words.Of(part.Kind), $"line {line.Part} is not named as the part is");
        Require(line.UnitCost == part.Cost, $"line {line.Part} has another price");
        Require(line.Available == part.Available, $"line {line.Part} misstates what is available");
        if (isUsedUp || !part.Supplied)
            Require(line.Quantity * 1000 <= part.Available.Thousandths, $"line {line.Part} takes more than there can be");

        var standsFor = isUsedUp ? Today(part.Number, 1000).Select(entry => (entry.Key, entry.Value)).ToArray() : [(part.Number, 1000L)];
        RequireClass(line, [part.Number, .. standsFor.Select(root => root.Item1)]);
        return new(line, IsPack: !isUsedUp && HasContents(part.Number), InAssembly: false, standsFor);
    }

    private void RequireClass(KitLine line, IEnumerable<PartNumber> numbers)
    {
        var open = new Stack<PartNumber>(numbers);
        while (open.TryPop(out var number))
        {
            var pressureClass = _catalogue.Parts[number].PressureClass;
            Require(pressureClass is null || pressureClass == _catalogue.Variant.PressureClass,
                $"line {line.Part} brings the wrong pressure class");
            foreach (var content in _catalogue.Contents)
                if (content.Pack == number) open.Push(content.Part);
        }
    }

    private bool HasContents(PartNumber number) => _catalogue.Contents.Any(content => content.Pack == number);

    /// <param name="IsPack">What it brings beyond the need is surplus.</param>
    /// <param name="InAssembly">Its halves count as coming out of an assembly.</param>
    /// <param name="Roots">What one piece of it is, in thousandths of today's numbers.</param>
    private sealed record CheckedLine(
        KitLine Line, bool IsPack, bool InAssembly, IReadOnlyList<(PartNumber Number, long Thousandths)> Roots);
}
