using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// Everything one kit answer is computed from: the variant with its positions, and the parts, packs, supersessions and stock that can
/// have a bearing on it. A snapshot; nothing in it changes. Whoever loads it may leave out what cannot matter, never what can.
/// Every number in positions, contents, supersessions and pairs is a key of <see cref="Parts"/>; contents and supersessions have no cycle.
/// </summary>
public sealed record KitCatalogue(
    KitVariant Variant,
    IReadOnlyDictionary<PartNumber, KitPart> Parts,
    IReadOnlyList<PackContent> Contents,
    IReadOnlyList<Supersession> Supersessions,
    IReadOnlyList<PairSupply> Pairs,
    IReadOnlyList<KitCaution> Cautions,
    IReadOnlyList<KitCheck> Checks,
    IReadOnlyList<KitTool> Tools);

/// <param name="PressureClass">The code of its relief-pressure class.</param>
public sealed record KitVariant(string Code, string Family, string PressureClass, ValveFit ValveFit, IReadOnlyList<KitPosition> Positions);

/// <param name="Number">The position on the parts list, unique in the variant.</param>
/// <param name="Quantity">How many of <paramref name="Part"/> one pump carries; above zero.</param>
public sealed record KitPosition(int Number, string Name, PartNumber Part, Quantity Quantity, PartGroup Group, RenewRule Renew);

/// <param name="PressureClass">The class the part belongs to, or null when it serves every class.</param>
/// <param name="Cost">What one piece costs the shop; zero when not known.</param>
/// <param name="Supplied">False: stock only, it can be used up to what is available and never ordered.</param>
/// <param name="Available">On hand in good condition less reserved; zero or more.</param>
public sealed record KitPart(
    PartNumber Number, string Name, PartKind Kind, PartService Service, string? PressureClass, Money Cost, bool Supplied, Quantity Available);

/// <summary>One entry of what is inside a pack (any part with contents: a kit, an assembly, a bag of screws).</summary>
/// <param name="Quantity">Pieces of <paramref name="Part"/> in one <paramref name="Pack"/>; above zero.</param>
public sealed record PackContent(PartNumber Pack, PartNumber Part, Quantity Quantity);

/// <summary>The old number was replaced by this many of the new one; several entries with one old number are a set.</summary>
public sealed record Supersession(PartNumber Old, PartNumber New, Quantity Quantity, SupersessionRule Rule);

/// <summary>A matched pair in stock, both halves together: at most one of it can be used.</summary>
/// <param name="Tag">The pair's code, shown in place of a part number.</param>
public sealed record PairSupply(string Tag, PartNumber Housing, PartNumber Valve, string Family, string PressureClass, Money Cost);

public sealed record KitCaution(Severity Severity, string Text);

/// <param name="Low">Lowest acceptable value in <paramref name="Unit"/>, or null.</param>
/// <param name="High">Highest acceptable value in <paramref name="Unit"/>, or null.</param>
public sealed record KitCheck(int Sequence, string Text, string? Expected, string? Unit, decimal? Low, decimal? High);

public sealed record KitTool(string Name, string? Note);
