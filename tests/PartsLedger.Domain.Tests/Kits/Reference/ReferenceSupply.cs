using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>One thing that may be pulled or ordered, as the reference sees it.</summary>
/// <param name="Limit">Most whole pieces that may be used; null when it can be ordered.</param>
/// <param name="CountsSurplus">True for packs and pairs: what they bring beyond the need lies about afterwards.</param>
/// <param name="Ways">How one piece may be used: all opened or, where that differs, with needed packs inside kept whole.</param>
internal sealed record ReferenceSupply(
    string Name, long CostTenThousandths, long Available, long? Limit, bool CountsSurplus, IReadOnlyList<ReferenceWay> Ways);

/// <summary>What one piece of a supply brings when used one way, in thousandths by number.</summary>
/// <param name="Brings">Everything that comes out.</param>
/// <param name="Covers">Of that, what may be counted against a need.</param>
internal sealed record ReferenceWay(IReadOnlyDictionary<PartNumber, long> Brings, IReadOnlyDictionary<PartNumber, long> Covers);
