namespace PartsLedger.Domain.Catalog;

/// <summary>
/// When a variant was built and with which serials, as far as stated: an end that is not stated is open while the other is, and a range
/// with neither end says nothing. Both ends belong to the range.
/// </summary>
public sealed record ProductionRange(DateOnly? BuiltFrom, DateOnly? BuiltTo, string? SerialFrom, string? SerialTo)
{
    private enum Relation { Unknown, Apart, Identical, Overlapping }

    /// <summary>
    /// The same pump would belong to both: the dates built overlap (or the serials, where not both state dates) without being the same
    /// range, and the other dimension does not keep them apart. Variants that share one range on purpose differ in something else.
    /// </summary>
    public bool Overlaps(ProductionRange other)
    {
        var (built, serials) = (Built(other), Serials(other));
        var (decisive, second) = built == Relation.Unknown ? (serials, Relation.Unknown) : (built, serials);
        return decisive == Relation.Overlapping && second != Relation.Apart;
    }

    /// <summary>
    /// Whether a pump with this serial may belong to it: null where no serials are stated. Serials with other letters in front are another
    /// series; where the ends themselves have different letters, letters are compared like everything else.
    /// </summary>
    public bool? HoldsSerial(string serial)
    {
        if ((SerialFrom ?? SerialTo) is not { } end) return null;
        if (IsOneSeries && !SerialNumber.AreComparable(end, serial)) return false;
        return !Before(serial, SerialFrom) && !Before(SerialTo, serial);
    }

    /// <summary>Whether a pump built on some day of a span may belong to it: null where no dates are stated.</summary>
    public bool? HoldsBuilt(DateOnly first, DateOnly last) =>
        (BuiltFrom ?? BuiltTo) is null ? null : !(BuiltFrom > last) && !(BuiltTo < first);

    private Relation Built(ProductionRange other)
    {
        if ((BuiltFrom ?? BuiltTo) is null || (other.BuiltFrom ?? other.BuiltTo) is null) return Relation.Unknown;
        if (BuiltFrom == other.BuiltFrom && BuiltTo == other.BuiltTo) return Relation.Identical;
        return Before(BuiltTo, other.BuiltFrom) || Before(other.BuiltTo, BuiltFrom) ? Relation.Apart : Relation.Overlapping;
    }

    private static bool Before(DateOnly? end, DateOnly? start) => end < start;

    private Relation Serials(ProductionRange other)
    {
        var (mine, others) = (SerialFrom ?? SerialTo, other.SerialFrom ?? other.SerialTo);
        if (mine is null || others is null || !IsOneSeries || !other.IsOneSeries) return Relation.Unknown;

        // Two series of serials never meet.
        if (!SerialNumber.AreComparable(mine, others)) return Relation.Apart;
        if (Same(SerialFrom, other.SerialFrom) && Same(SerialTo, other.SerialTo)) return Relation.Identical;
        return Before(SerialTo, other.SerialFrom) || Before(other.SerialTo, SerialFrom) ? Relation.Apart : Relation.Overlapping;
    }

    private bool IsOneSeries => SerialFrom is null || SerialTo is null || SerialNumber.AreComparable(SerialFrom, SerialTo);

    private static bool Same(string? left, string? right) =>
        left is null || right is null ? left is null && right is null : SerialNumber.Compare(left, right) == 0;

    private static bool Before(string? end, string? start) => end is not null && start is not null && SerialNumber.Compare(end, start) < 0;
}
