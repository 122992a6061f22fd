using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

// Why a line is on the list.
internal sealed partial class KitWords
{
    public string WhyLine(KitUse use)
    {
        var what = use.Offer switch
        {
            { Origin: KitOrigin.Paired } => "Matched pair in stock: valve and housing were fitted to each other and go in together.",
            { Origin: KitOrigin.UsedUp } => $"Old number, {use.Offer.Available} on the shelf: 1 × {use.Offer.Number} counts as "
                + $"{Set(succession.Today(use.Offer.Number, Quantity.FromWhole(1)))}.",
            { IsPack: true } => $"{Contents(use)}; {Worth(use)}.",
            _ => "Sold by itself.",
        };
        var sentences = new List<string> { what };
        if (OnlySource(use) is { } only) sentences.Add(only);
        if (Whence(use) is { } whence) sentences.Add(whence);
        return string.Join(' ', sentences);
    }

    private static string Contents(KitUse use)
    {
        var kind = use.Offer.Kind == "kit" ? "Kit" : use.Offer.Kind == "assembly" ? "Assembly" : "Pack";
        if (use.Offer.Ways.Count > 1 && use.Quantities[0] > 0 && use.Quantities[1] > 0)
            return $"{kind}, {use.Quantities[0]} kept whole inside as asked for and {use.Quantities[1]} opened";
        var way = use.Quantities[0] > 0 ? use.Offer.Ways[0] : use.Offer.Ways[^1];
        if (way.Pieces is [var (part, _)] && part == use.Offer.Number) return $"{kind}, asked for as it is and kept whole";
        var pieces = way.Pieces.Aggregate(Quantity.Zero, (sum, piece) => sum + piece.Quantity);
        return $"{kind} of {pieces}";
    }

    /// <summary>What a pack covers and how its price compares with the parts one by one, where every one of them can be had by itself.</summary>
    private string Worth(KitUse use)
    {
        var positions = use.Covered.Select(covered => covered.Position).Distinct().Count();
        var covers = positions == 1 ? "covers 1 position" : $"covers {Whole(positions)} positions";
        var oneByOne = Money.Zero;
        var notByThemselves = new List<string>();
        foreach (var covered in use.Covered.GroupBy(covered => covered.Item).OrderBy(group => group.Key))
        {
            var part = demand.Items[covered.Key];
            var whole = (covered.Sum(share => share.Thousandths) + Quantity.PerWhole - 1) / Quantity.PerWhole;
            var loose = offers.Usable.FirstOrDefault(offer => offer.Origin == KitOrigin.Sold && offer.Number == part.Number);
            if (loose is null || loose.IsPack || !loose.Serves(covered.Key) || loose.Limit < whole) notByThemselves.Add(part.Number.Text);
            else oneByOne += loose.Cost * whole;
        }
        if (notByThemselves.Count > 0)
            return $"{covers} and brings {Some(notByThemselves)}, which cannot be had loose{(notByThemselves.Count == 1 ? "" : " (or not enough of them)")}";
        var cost = use.Offer.Cost * use.Quantity;
        if (cost == oneByOne) return $"{covers} and costs the same as the parts one by one";
        return cost < oneByOne
            ? $"{covers} and costs {oneByOne - cost} less than the parts one by one"
            : $"{covers} and costs {cost - oneByOne} more than the parts one by one, but belongs to the best list as a whole";
    }

    /// <summary>What only this offer can bring, of all that may be used for the variant.</summary>
    private string? OnlySource(KitUse use)
    {
        if (use.Offer is { Origin: KitOrigin.Sold, IsPack: false }) return null;
        var only = use.Covered.Select(covered => covered.Item).Distinct().Order()
            .Where(item => offers.Usable.Count(offer => offer.CanBeHad && offer.Serves(item)) == 1)
            .Select(item => demand.Items[item].Number.Text).ToList();
        return only.Count == 0 ? null : $"Nothing else that can be had brings {Some(only)}.";
    }

    private static string? Whence(KitUse use)
    {
        if (use.Offer.Origin != KitOrigin.Sold) return null;
        var shelf = use.Offer.Available;
        var missing = use.Quantity - shelf.WholeFloor;
        if (use.Offer.Limit is not null) return $"No longer supplied: taken from the {shelf} on the shelf.";
        if (missing <= 0) return $"On the shelf: {shelf}.";
        return shelf.WholeFloor == 0 ? $"None on the shelf: {Whole(missing)} to order." : $"On the shelf: {shelf}; {Whole(missing)} to order.";
    }

    /// <summary>Up to three names; more would not be read.</summary>
    private static string Some(List<string> names) =>
        names.Count <= 3 ? Listed(names) : $"{string.Join(", ", names.Take(3))} and {Whole(names.Count - 3)} more";
}
