using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>The reference's own reading of a question: which current numbers the job needs, and how many of each.</summary>
internal static class ReferenceDemand
{
    public static Dictionary<PartNumber, Quantity> Of(KitCatalogue catalogue, KitQuestion question)
    {
        var demand = new Dictionary<PartNumber, Quantity>();
        foreach (var position in catalogue.Variant.Positions.Where(position => IsRenewed(position, question)))
            foreach (var (part, quantity) in Current(catalogue, position.Part, position.Quantity))
                demand[part] = demand.GetValueOrDefault(part) + quantity;
        return demand;
    }

    /// <summary>What <paramref name="quantity"/> of a number has become today, through every supersession; itself if none.</summary>
    public static IEnumerable<(PartNumber Part, Quantity Quantity)> Current(KitCatalogue catalogue, PartNumber part, Quantity quantity)
    {
        var successors = catalogue.Supersessions.Where(supersession => supersession.Old == part).ToArray();
        return successors.Length == 0
            ? [(part, quantity)]
            : successors.SelectMany(next => Current(catalogue, next.New, quantity * next.Quantity));
    }

    private static bool IsRenewed(KitPosition position, KitQuestion question) =>
        position.Renew == RenewRule.Always || question.Worn.Contains(position.Number) || question.Scope switch
        {
            JobScope.Reseal => false,
            JobScope.Rotating => position.Group == PartGroup.Rotating,
            JobScope.Valve => position.Group == PartGroup.Valve,
            JobScope.Full => position.Group is PartGroup.Rotating or PartGroup.Valve or PartGroup.Hardware,
            _ => throw new ArgumentOutOfRangeException(nameof(question)),
        };
}
