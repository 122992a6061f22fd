using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

/// <summary>What kit a job needs: the provably best list, with what it cannot cover, and why for every line.</summary>
/// <param name="Complete">Nothing is left uncovered.</param>
public sealed record KitAnswer(
    string Variant,
    string Family,
    string PressureClass,
    JobScope Scope,
    KitPreference Prefer,
    bool Complete,
    IReadOnlyList<KitNeed> Needs,
    IReadOnlyList<KitLine> Lines,
    IReadOnlyList<KitSurplus> Surplus,
    IReadOnlyList<KitUncovered> Uncovered,
    Money TotalCost,
    long PiecesShort,
    Quantity SurplusPieces,
    IReadOnlyList<KitCaution> Cautions,
    IReadOnlyList<KitCheck> Checks,
    IReadOnlyList<KitTool> Tools);

/// <summary>One position the job renews, by the number the parts list gives and how it was followed to today's.</summary>
/// <param name="Part">The number in the parts list, as written.</param>
/// <param name="Quantity">Pieces of <paramref name="Part"/>.</param>
public sealed record KitNeed(int Position, string Name, string Part, Quantity Quantity, string Why);

/// <summary>One thing to pull or to order.</summary>
/// <param name="Part">The part number, or a matched pair's code.</param>
/// <param name="Quantity">Whole pieces.</param>
/// <param name="Covers">Positions it covers, wholly or in part, ascending.</param>
/// <param name="Available">Pieces on the shelf that may be used.</param>
/// <param name="Short">Pieces to order beyond what is available.</param>
public sealed record KitLine(
    string Part, string Name, string Kind, long Quantity, IReadOnlyList<int> Covers, Money UnitCost, Money Cost,
    Quantity Available, long Short, string Why);

/// <summary>Pieces that come in packs and that nobody needs in this job.</summary>
/// <param name="StaysWithValve">A housing whose fitted valve comes with it: the two go into the pump together, never to stock apart.</param>
public sealed record KitSurplus(string Part, Quantity Quantity, bool StaysWithValve = false);

/// <param name="Part">The current number that cannot be had, as written.</param>
public sealed record KitUncovered(int Position, string Part, Quantity Quantity, string Why);
