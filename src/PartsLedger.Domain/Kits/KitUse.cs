namespace PartsLedger.Domain.Kits;

/// <summary>An offer that the answer uses, and the positions its pieces go to.</summary>
internal sealed class KitUse(KitOffer offer, IReadOnlyList<long> quantities)
{
    private readonly List<(int Position, int Item, long Thousandths)> _covered = [];

    public KitOffer Offer { get; } = offer;

    /// <summary>Whole pieces of the offer, by way of use.</summary>
    public IReadOnlyList<long> Quantities { get; } = quantities;

    public long Quantity { get; } = quantities.Sum();

    /// <summary>What goes where, in the order it was allotted.</summary>
    public IReadOnlyList<(int Position, int Item, long Thousandths)> Covered => _covered;

    /// <summary>
    /// Hands each item's pieces to the positions that ask for it, ascending, from the uses in order. Returns what each of
    /// <see cref="KitDemand.Shares"/> still lacks: later positions go short first.
    /// </summary>
    public static long[] Allocate(KitDemand demand, IReadOnlyList<KitUse> uses)
    {
        var left = demand.Shares.Select(share => share.Thousandths).ToArray();
        foreach (var use in uses)
        {
            var pieces = new Dictionary<int, long>();
            for (var way = 0; way < use.Quantities.Count; way++)
                foreach (var cover in use.Offer.Ways[way].Covers)
                    pieces[cover.Item] = checked(pieces.GetValueOrDefault(cover.Item) + cover.Pieces * use.Quantities[way]);
            for (var at = 0; at < left.Length; at++)
            {
                var share = demand.Shares[at];
                var given = Math.Min(left[at], pieces.GetValueOrDefault(share.Item));
                if (given == 0) continue;
                left[at] -= given;
                pieces[share.Item] -= given;
                use._covered.Add((share.Position.Number, share.Item, given));
            }
        }
        return left;
    }
}
