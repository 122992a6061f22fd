namespace PartsLedger.Domain.Kits;

/// <summary>
/// The kit question as whole numbers: cover every item's demand with whole numbers of supplies, at the least objective.
/// Pieces are in any one unit (the kit answer uses thousandths); costs in any one unit.
/// </summary>
/// <param name="Demand">Pieces of each item that are wanted; zero or more.</param>
/// <param name="Supplies">What may be used, in the order that breaks ties: of two equally good answers, the one with more of the earlier supply.</param>
/// <param name="ShortBeforeCost">Whether pieces short come before cost in the objective.</param>
public sealed record CoverProblem(IReadOnlyList<long> Demand, IReadOnlyList<CoverSupply> Supplies, bool ShortBeforeCost = false);

/// <summary>One thing that may be used any whole number of times up to <paramref name="Limit"/>.</summary>
/// <param name="UnitCost">Zero or more.</param>
/// <param name="Modes">The ways one unit of it can be put to use; each unit is used in one of them. At least one.</param>
/// <param name="InStock">Units that are there; each unit beyond is one short. Zero or more.</param>
/// <param name="Limit">Most units that can be had, or null for as many as wanted.</param>
/// <param name="IsPack">
/// Whether it counts as a pack when ties are broken: units of anything else are never in the answer if they could be left out.
/// </param>
public sealed record CoverSupply(long UnitCost, IReadOnlyList<CoverMode> Modes, long InStock, long? Limit, bool IsPack);

/// <summary>What one unit of a supply does when used in one way.</summary>
/// <param name="Covers">Pieces by which it covers items; each item at most once, pieces above zero.</param>
/// <param name="Brings">Pieces of items that come out of it and are surplus beyond the item's demand; each item at most once.</param>
/// <param name="Unneeded">Pieces that are surplus in any case.</param>
public sealed record CoverMode(IReadOnlyList<ItemPieces> Covers, IReadOnlyList<ItemPieces> Brings, long Unneeded)
{
    /// <summary>A mode that covers and leaves nothing over.</summary>
    public static CoverMode Covering(params IReadOnlyList<ItemPieces> covers) => new(covers, [], 0);
}

/// <param name="Item">0-based place in <see cref="CoverProblem.Demand"/>.</param>
public readonly record struct ItemPieces(int Item, long Pieces);

/// <summary>The optimal answer to a <see cref="CoverProblem"/>.</summary>
/// <param name="Quantities">Units of each supply in each of its modes, in the problem's order.</param>
/// <param name="Uncovered">Pieces of each item left uncovered.</param>
/// <param name="Nodes">Nodes of the search, for measurements.</param>
public sealed record CoverSolution(
    IReadOnlyList<IReadOnlyList<long>> Quantities, IReadOnlyList<long> Uncovered, CoverObjective Objective, long Nodes);

/// <summary>What an answer is judged by, in whole numbers.</summary>
/// <param name="Lines">Supplies of which at least one unit is used.</param>
public readonly record struct CoverObjective(long Uncovered, long Cost, long Short, long Surplus, long Lines);
