using System.Globalization;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// Says why, in words for a person at the counter. Every sentence states something that was computed for this very answer; where nothing
/// certain can be said about a cause, none is claimed.
/// </summary>
internal sealed partial class KitWords(
    KitCatalogue catalogue, KitQuestion question, KitSuccession succession, KitDemand demand, KitOffers offers)
{
    public static string Whole(long number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary><c>a</c>, <c>a and b</c>, <c>a, b and c</c>.</summary>
    public static string Listed(IReadOnlyList<string> names) => names.Count < 2
        ? string.Concat(names)
        : $"{string.Join(", ", names.Take(names.Count - 1))} and {names[^1]}";

    public string WhyNeeded(KitPosition position)
    {
        var sentences = new List<string> { Cause(position) };
        if (succession.IsOld(position.Part))
        {
            sentences.Add($"Replaced: 1 × {Text(position.Part)} became {Set(succession.Today(position.Part, Quantity.FromWhole(1)))}.");
            var counting = succession.Chain(position.Part).Order().Where(succession.IsUsedUp)
                .Where(part => catalogue.Parts[part].Available.WholeFloor > 0).ToList();
            if (counting.Count > 0)
                sentences.Add($"On the shelf under {(counting.Count > 1 ? "old numbers" : "the old number")}: "
                    + $"{Listed([.. counting.Select(part => $"{catalogue.Parts[part].Available} × {Text(part)}")])}.");
        }
        foreach (var (part, _) in succession.Today(position.Part, position.Quantity))
            if (HowSold(catalogue.Parts[part]) is { } how) sentences.Add(how);
        return string.Join(' ', sentences.Distinct());
    }

    private string Cause(KitPosition position)
    {
        if (position.Renew == RenewRule.Always) return "Renewed in every job.";
        return question.Scope.Renews(RenewRule.IfWorn, position.Group)
            ? $"Belongs to the {Words.Of(position.Group)} group, which this job renews."
            : "Found worn.";
    }

    private string? HowSold(KitPart part)
    {
        var name = $"{part.Number} is";
        if (offers.IsFittedBySelection(part) && part.Service != PartService.None)
            return $"{name} fitted to its housing by selection: only what brings both, a complete assembly or a matched pair, will do.";
        return part.Service switch
        {
            PartService.Separate => null,
            PartService.KitOnly => $"{name} only sold inside a kit or an assembly.",
            PartService.AssemblyOnly => $"{name} only sold inside an assembly.",
            PartService.None => $"{name} no longer to be had, not even inside a pack.",
            _ => throw new ArgumentOutOfRangeException(nameof(part), part.Service, "No such service."),
        };
    }

    private string Set(IEnumerable<(PartNumber Part, Quantity Quantity)> parts) =>
        Listed([.. parts.Select(part => $"{part.Quantity} × {Text(part.Part)}")]);

    private string Text(PartNumber part) => catalogue.Parts[part].Number.Text;

    private static string Pieces(long thousandths) => Quantity.FromThousandths(thousandths).ToString();
}
