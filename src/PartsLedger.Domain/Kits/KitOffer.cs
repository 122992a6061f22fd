using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

/// <summary>Where an offer comes from: sold by itself, an old number used up from the shelf, or a matched pair in stock.</summary>
internal enum KitOrigin { Sold, UsedUp, Paired }

/// <summary>One thing that may be pulled or ordered for the variant, and what a piece of it is good for.</summary>
/// <param name="Part">The part offered; null for a matched pair.</param>
/// <param name="Limit">Most whole pieces that can be had, or null.</param>
/// <param name="Ways">How one piece can be used: needed packs inside kept whole, then (where that serves something) all opened.</param>
/// <param name="OfOtherClass">It is, brings or stands for something of another pressure class: shown in reasons, never offered.</param>
internal sealed record KitOffer(
    PartNumber Number, KitPart? Part, KitOrigin Origin, string Name, string Kind, Money Cost, Quantity Available, long? Limit, bool IsPack,
    IReadOnlyList<KitWay> Ways, bool OfOtherClass)
{
    public bool Serves(int item) => Ways.Any(way => way.Covers.Any(cover => cover.Item == item));

    public bool CanBeHad => !OfOtherClass && Limit != 0;
}

/// <param name="Pieces">Everything that comes out, in order of numbers.</param>
/// <param name="Covers">Of that, what may be counted against a need.</param>
internal sealed record KitWay(IReadOnlyList<(PartNumber Part, Quantity Quantity)> Pieces, IReadOnlyList<ItemPieces> Covers);
