using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Kits;

/// <summary>What a job renews, position by position, and what that comes to in current parts ("items").</summary>
internal sealed class KitDemand
{
    private readonly Dictionary<PartNumber, int> _itemOf = [];

    public KitDemand(KitCatalogue catalogue, KitQuestion question, KitSuccession succession)
    {
        var worn = question.Worn.ToHashSet();
        Positions = [.. catalogue.Variant.Positions
            .Where(position => question.Scope.Renews(position.Renew, position.Group) || worn.Contains(position.Number))
            .OrderBy(position => position.Number)];
        var shares = Positions.SelectMany(position => succession.Today(position.Part, position.Quantity)
            .Select(today => (Position: position, today.Part, today.Quantity))).ToList();
        Items = [.. shares.Select(share => share.Part).Distinct().Order().Select(part => catalogue.Parts[part])];
        for (var item = 0; item < Items.Count; item++) _itemOf.Add(Items[item].Number, item);
        Shares = [.. shares.Select(share => new Share(share.Position, _itemOf[share.Part], share.Quantity.Thousandths))];
        var wanted = new long[Items.Count];
        foreach (var share in Shares) checked { wanted[share.Item] += share.Thousandths; }
        Wanted = wanted;
    }

    /// <summary>The positions renewed, ascending by number.</summary>
    public IReadOnlyList<KitPosition> Positions { get; }

    /// <summary>The current parts needed, each once, in order of their numbers.</summary>
    public IReadOnlyList<KitPart> Items { get; }

    /// <summary>Thousandths needed of each item, over all positions.</summary>
    public IReadOnlyList<long> Wanted { get; }

    /// <summary>Which position asks how much of which item, ascending by position.</summary>
    public IReadOnlyList<Share> Shares { get; }

    /// <param name="Item">0-based place in <see cref="Items"/>.</param>
    internal readonly record struct Share(KitPosition Position, int Item, long Thousandths);

    public int? ItemOf(PartNumber part) => _itemOf.TryGetValue(part, out var item) ? item : null;
}
