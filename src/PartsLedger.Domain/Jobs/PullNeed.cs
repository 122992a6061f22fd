using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Jobs;

/// <summary>Pieces of a list that stay short, and what takes their place, if anything does.</summary>
public sealed record ShortPieces(string Part, Quantity Quantity, string? Substitute = null, Quantity? SubstituteQuantity = null);

/// <summary>
/// How a job stands with one part: what its list asks for, or what was named to take another part's place, and what it has.
/// </summary>
/// <param name="Wanted">By the accepted list, and as a substitute.</param>
/// <param name="Short">Of that, what was put down as staying short.</param>
public sealed record PullNeed(string Part, Quantity Wanted, Quantity Short, Quantity InHand)
{
    /// <summary>Still to be pulled.</summary>
    public Quantity Left => Quantity.Max(Quantity.Zero, Wanted - Short - InHand);

    /// <summary>In hand, and asked for by nothing.</summary>
    public Quantity TooMany => Quantity.Max(Quantity.Zero, InHand - Quantity.Max(Quantity.Zero, Wanted - Short));

    /// <summary>Every part that the list, a substitute or the job's hands name, in order of its number.</summary>
    public static IReadOnlyList<PullNeed> Of(
        IReadOnlyList<ListedPieces> list, IReadOnlyList<ShortPieces> shorts, IReadOnlyDictionary<string, Quantity> inHand)
    {
        var wanted = Sum(list.Select(line => (line.Part, line.Quantity))
            .Concat(shorts.Where(one => one.Substitute is not null)
            .Select(one => (one.Substitute!, one.SubstituteQuantity ?? Quantity.Zero))));
        var missing = Sum(shorts.Select(one => (one.Part, one.Quantity)));
        return [.. wanted.Keys.Concat(inHand.Keys).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)
            .Select(part => new PullNeed(part, wanted.GetValueOrDefault(part), missing.GetValueOrDefault(part),
                Quantity.Max(Quantity.Zero, inHand.GetValueOrDefault(part))))];
    }

    private static Dictionary<string, Quantity> Sum(IEnumerable<(string Part, Quantity Quantity)> pieces) =>
        pieces.GroupBy(one => one.Part, StringComparer.Ordinal)
        .ToDictionary(group => group.Key, group => group.Aggregate(Quantity.Zero, (sum, one) => sum + one.Quantity),
        StringComparer.Ordinal);
}
