using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Kits;

// Why something is left uncovered, and what could be done.
internal sealed partial class KitWords
{
    /// <summary>The reason an item is (partly) uncovered in an answer that leaves as little uncovered as can be.</summary>
    public string WhyUncovered(int item, IReadOnlyList<KitUse> used)
    {
        var part = demand.Items[item];
        var serving = offers.Usable.Where(offer => offer.Serves(item)).ToList();
        var sentences = new List<string>
        {
            serving.Any(offer => offer.CanBeHad) ? TooFew(item, serving, used) : NotToBeHad(part, serving),
        };
        var other = offers.OfOtherClass.Where(offer => offer.Serves(item)).Select(offer => offer.Number.Text).ToList();
        if (other.Count > 0)
            sentences.Add($"{Some(other)} would bring it but {(other.Count == 1 ? "is" : "are")} of another pressure class than "
                + $"{catalogue.Variant.PressureClass} and must not be used.");
        if (part.Service != PartService.None && offers.PacksWithOldNumberOf(item).Select(found => (KitPart[])[found.Pack, found.Old]).FirstOrDefault() is [var pack, var old])
            sentences.Add($"{pack.Number} still lists the old number {old.Number}, which does not count as {part.Number}: "
                + "check what is really in the box and correct its contents.");
        sentences.Add(WhatToDo(part));
        return string.Join(' ', sentences);
    }

    /// <summary>Everything limited is used as far as it goes, and that is not far enough.</summary>
    private string TooFew(int item, List<KitOffer> serving, IReadOnlyList<KitUse> used)
    {
        var given = used.SelectMany(use => use.Covered).Where(covered => covered.Item == item).Sum(covered => covered.Thousandths);
        var names = serving.Where(offer => offer.CanBeHad).Select(offer => $"{Whole(offer.Limit ?? 0)} × {offer.Number}").ToList();
        return $"Not enough: {Pieces(demand.Wanted[item])} needed, {Pieces(given)} covered. All that can be had is {Some(names)}, and no more can be ordered.";
    }

    private string NotToBeHad(KitPart part, List<KitOffer> serving)
    {
        if (part.Service == PartService.None) return "No longer to be had, neither by itself nor inside a pack.";
        if (serving.Count > 0)
            return $"No longer supplied and none on the shelf{(serving.Count == 1 && serving[0].Number == part.Number ? "" : $": {Some([.. serving.Select(offer => offer.Number.Text)])}")}.";
        if (offers.IsFittedBySelection(part))
        {
            return offers.KnowsHousing
                ? "Fitted to its housing by selection: never sold by itself; a complete assembly or a matched pair brings both, and none can be had for this variant."
                : "Fitted to its housing by selection, but the parts list names no housing for this variant, so nothing can be said to bring both.";
        }
        return part.Service switch
        {
            PartService.KitOnly => "Only sold inside a kit or an assembly, and none that brings it can be had for this variant.",
            PartService.AssemblyOnly => "Only sold inside an assembly, and none that brings it can be had for this variant.",
            _ => "Nothing that brings it can be had for this variant.",
        };
    }

    private string WhatToDo(KitPart part)
    {
        if (offers.IsFittedBySelection(part) && offers.KnowsHousing && part.Service != PartService.None)
            return "Measure loose valves and housings and propose a pair, or look for a core of this variant.";
        if (part.PressureClass is { } own && own != catalogue.Variant.PressureClass)
            return $"The part itself is of class {own}: check the variant and its parts list.";
        return part.Service switch
        {
            PartService.None => "Look for a sound used piece from a core, or ask the maker's service information for a later number.",
            PartService.KitOnly or PartService.AssemblyOnly => "Ask the supplier for a pack that brings it, or look for a sound used piece from a core.",
            _ => "Ask for a later number, or look for pieces elsewhere.",
        };
    }
}
