using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>
/// A kit catalogue in the making, for hand-worked cases and for random ones. Money and quantities are given as people write them
/// (4.80, 0.95). Variant "V-1" of family "F1" in class "A" unless said otherwise.
/// </summary>
internal sealed class CatalogueDraft
{
    public const string Variant = "V-1";
    public const string Family = "F1";
    public const string Class = "A";

    public Dictionary<PartNumber, KitPart> Parts { get; } = [];
    public List<KitPosition> Positions { get; } = [];
    public List<PackContent> Contents { get; } = [];
    public List<Supersession> Supersessions { get; } = [];
    public List<PairSupply> Pairs { get; } = [];
    public ValveFit ValveFit { get; set; } = ValveFit.Interchangeable;

    public CatalogueDraft Part(
        string number, decimal cost = 1, PartKind kind = PartKind.Seal, PartService service = PartService.Separate, decimal available = 0,
        bool supplied = true, string? pressureClass = null)
    {
        var key = new PartNumber(number);
        Parts.Add(key, new(key, $"{Words.Of(kind)} {number}", kind, service, pressureClass, Money(cost), supplied, Pieces(available)));
        return this;
    }

    /// <summary>A position, always renewed unless <paramref name="renew"/> says otherwise; numbered in the order given, from 1.</summary>
    public CatalogueDraft Needs(
        string part, decimal quantity = 1, PartGroup group = PartGroup.Seal, RenewRule renew = RenewRule.Always, int? position = null)
    {
        var number = position ?? Positions.Count + 1;
        Positions.Add(new(number, $"position {number}", new(part), Pieces(quantity), group, renew));
        return this;
    }

    public CatalogueDraft Holds(string pack, string part, decimal quantity = 1)
    {
        Contents.Add(new(new(pack), new(part), Pieces(quantity)));
        return this;
    }

    public CatalogueDraft Follows(string old, string current, SupersessionRule rule = SupersessionRule.Replace, decimal quantity = 1)
    {
        Supersessions.Add(new(new(old), new(current), Pieces(quantity), rule));
        return this;
    }

    public CatalogueDraft Pair(string tag, string housing, string valve, decimal cost, string family = Family, string pressureClass = Class)
    {
        Pairs.Add(new(tag, new(housing), new(valve), family, pressureClass, Money(cost)));
        return this;
    }

    public CatalogueDraft Selective()
    {
        ValveFit = ValveFit.Selective;
        return this;
    }

    public KitCatalogue Finished() => new(
        new(Variant, Family, Class, ValveFit, [.. Positions]), Parts.ToDictionary(), [.. Contents], [.. Supersessions], [.. Pairs],
        [], [], []);

    public static KitQuestion Ask(
        JobScope scope = JobScope.Reseal, IReadOnlyList<int>? worn = null, KitPreference prefer = KitPreference.Cost) =>
        new(Variant, scope, worn ?? [], prefer);

    public static Money Money(decimal amount) => Measures.Money.FromTenThousandths(decimal.ToInt64(amount * Measures.Money.PerUnit));

    public static Quantity Pieces(decimal quantity) => Quantity.FromThousandths(decimal.ToInt64(quantity * Quantity.PerWhole));
}
