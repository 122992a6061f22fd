using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Jobs;

/// <summary>A pack that a job has in hand: so many of one lot.</summary>
public sealed record PackInHand(string Pack, string? Lot, Quantity Quantity);

/// <summary>Pieces out of a pack that nobody needs in this job.</summary>
public sealed record SurplusPieces(string Pack, string? Lot, string Part, Quantity Quantity)
{
    /// <summary>
    /// What the packs in hand bring beyond what the list takes out of its packs, less what was seen to already. A piece is told to the
    /// packs in their order, so that each knows where it came from.
    /// </summary>
    /// <param name="list">The packs that the list names and how many of each.</param>
    /// <param name="listSurplus">What the list says is left over, by part.</param>
    /// <param name="inside">How many of each part one pack holds, at every depth.</param>
    /// <param name="seenTo">Put back or kept already, by part.</param>
    public static IReadOnlyList<SurplusPieces> Of(
        IReadOnlyList<ListedPieces> list, IReadOnlyDictionary<string, Quantity> listSurplus, IReadOnlyList<PackInHand> inHand,
        IReadOnlyDictionary<string, IReadOnlyDictionary<string, Quantity>> inside, IReadOnlyDictionary<string, Quantity> seenTo)
    {
        var surplus = new List<SurplusPieces>();
        foreach (var part in listSurplus.Keys.Order(StringComparer.Ordinal))
        {
            var taken = Brought(list.Select(line => (line.Part, line.Quantity)), part) - listSurplus[part];
            var left = Brought(inHand.Select(pack => (pack.Pack, pack.Quantity)), part) - Quantity.Max(Quantity.Zero,
                taken) - seenTo.GetValueOrDefault(part);
            foreach (var pack in inHand)
            {
                var here = Quantity.Min(left, pack.Quantity * (inside.GetValueOrDefault(pack.Pack)?.GetValueOrDefault(part)
                    ?? Quantity.Zero));
                if (here <= Quantity.Zero) continue;
                surplus.Add(new(pack.Pack, pack.Lot, part, here));
                left -= here;
            }
        }
        return surplus;

        Quantity Brought(IEnumerable<(string Pack, Quantity Quantity)> packs, string part) => packs.Aggregate(Quantity.Zero,
            (sum, pack) => sum + (pack.Quantity * (inside.GetValueOrDefault(pack.Pack)?.GetValueOrDefault(part) ?? Quantity.Zero)));
    }
}
