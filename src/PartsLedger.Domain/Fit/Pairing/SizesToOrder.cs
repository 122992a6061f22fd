namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>What valve sizes the unpaired housings need, against those on hand.</summary>
public static class SizesToOrder
{
    /// <summary>Bins with anything in them, by rising size.</summary>
    /// <param name="housings">Unpaired; each needs a valve of its size less the target clearance.</param>
    /// <param name="valves">Unpaired, on hand.</param>
    /// <param name="target">Target clearance, nm.</param>
    /// <param name="binWidth">Width of a bin, nm, above zero. Bins begin at whole multiples of it.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="binWidth"/> is not above zero.</exception>
    public static IReadOnlyList<SizeBin> Of(IEnumerable<LooseHalf> housings, IEnumerable<LooseHalf> valves, long target, long binWidth)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(binWidth);
        var bins = new SortedDictionary<long, (int Needed, int OnHand)>();
        foreach (var housing in housings)
        {
            var (needed, onHand) = bins.GetValueOrDefault(Bin(housing.Size - target));
            bins[Bin(housing.Size - target)] = (needed + 1, onHand);
        }
        foreach (var valve in valves)
        {
            var (needed, onHand) = bins.GetValueOrDefault(Bin(valve.Size));
            bins[Bin(valve.Size)] = (needed, onHand + 1);
        }
        return [.. bins.Select(bin => new SizeBin(bin.Key * binWidth, (bin.Key + 1) * binWidth, bin.Value.Needed, bin.Value.OnHand))];

        long Bin(long size) => size >= 0 ? size / binWidth : -((binWidth - 1 - size) / binWidth);
    }
}

/// <param name="From">Least size in the bin, nm.</param>
/// <param name="Below">Least size beyond the bin, nm.</param>
/// <param name="Needed">Unpaired housings whose best valve is of such a size.</param>
/// <param name="OnHand">Unpaired valves of such a size.</param>
public readonly record struct SizeBin(long From, long Below, int Needed, int OnHand)
{
    /// <summary>How many of the size are missing.</summary>
    public int ToOrder => Math.Max(0, Needed - OnHand);
}
