using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Jobs;

/// <summary>One line of a kit list as far as a comparison needs it: a part number or a pair's code, and how many.</summary>
public sealed record ListedPieces(string Part, Quantity Quantity);

/// <summary>What becomes of one line when a list takes the place of another.</summary>
/// <param name="Before">Zero for a line that is new.</param>
/// <param name="After">Zero for a line that falls away.</param>
/// <param name="ToFree">Of what the job has reserved, what the new list no longer asks for.</param>
/// <param name="ToReserve">Of what the new list asks for, what the job has neither reserved nor pulled.</param>
/// <param name="ToGiveBack">Of what the job has pulled, what the new list no longer asks for.</param>
public sealed record ListChange(string Part, Quantity Before, Quantity After, Quantity ToFree, Quantity ToReserve, Quantity ToGiveBack)
{
    /// <summary>
    /// Every part that either list names or the job holds, in order of its number; lines that are the same in all are left out.
    /// </summary>
    /// <param name="reserved">What the job has reserved, by part number as written.</param>
    /// <param name="pulled">What the job has in hand, by part number as written.</param>
    public static IReadOnlyList<ListChange> Between(
        IReadOnlyList<ListedPieces> before, IReadOnlyList<ListedPieces> after, IReadOnlyDictionary<string, Quantity> reserved,
        IReadOnlyDictionary<string, Quantity> pulled)
    {
        var (was, willBe) = (Total(before), Total(after));
        return [.. was.Keys.Concat(willBe.Keys).Concat(reserved.Keys).Concat(pulled.Keys).Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal)
            .Select(part => Of(part, was.GetValueOrDefault(part), willBe.GetValueOrDefault(part), reserved.GetValueOrDefault(part),
                Quantity.Max(Quantity.Zero, pulled.GetValueOrDefault(part))))
            .Where(change => change.Before != change.After || change.ToFree != Quantity.Zero || change.ToReserve != Quantity.Zero
                || change.ToGiveBack != Quantity.Zero)];
    }

    private static ListChange Of(string part, Quantity before, Quantity after, Quantity reserved, Quantity pulled)
    {
        var toGiveBack = Quantity.Max(Quantity.Zero, pulled - after);
        var stillWanted = Quantity.Max(Quantity.Zero, after - pulled);
        return new(part, before, after, Quantity.Max(Quantity.Zero, reserved - stillWanted),
            Quantity.Max(Quantity.Zero, stillWanted - reserved), toGiveBack);
    }

    private static Dictionary<string, Quantity> Total(IReadOnlyList<ListedPieces> lines) =>
        lines.GroupBy(line => line.Part, StringComparer.Ordinal)
        .ToDictionary(group => group.Key, group => group.Aggregate(Quantity.Zero, (sum, line) => sum + line.Quantity),
        StringComparer.Ordinal);
}
