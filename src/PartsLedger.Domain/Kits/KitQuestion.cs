using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// How far a job goes. Every job renews the positions that are always renewed; <see cref="Rotating"/> adds the rotating group,
/// <see cref="Valve"/> the valve group, <see cref="Full"/> rotating, valve and hardware.
/// </summary>
public enum JobScope { Reseal, Rotating, Valve, Full }

/// <summary>What the scopes mean.</summary>
public static class JobScopes
{
    /// <summary>Whether a job of this scope renews a position whether or not it is worn.</summary>
    public static bool Renews(this JobScope scope, RenewRule rule, PartGroup group) => rule == RenewRule.Always || scope switch
    {
        JobScope.Reseal => false,
        JobScope.Rotating => group == PartGroup.Rotating,
        JobScope.Valve => group == PartGroup.Valve,
        JobScope.Full => group is PartGroup.Rotating or PartGroup.Valve or PartGroup.Hardware,
        _ => throw new ArgumentOutOfRangeException(nameof(scope), scope, "No such scope."),
    };
}

/// <summary>Which comes first when a complete kit can be had in several ways: the lowest cost, or the fewest pieces to order.</summary>
public enum KitPreference { Cost, Stock }

/// <summary>The question of the counter: what kit does this job need?</summary>
/// <param name="Variant">The variant's code.</param>
/// <param name="Worn">Position numbers found worn at tear-down, renewed besides what the scope renews. Order and repeats do not matter.</param>
public sealed record KitQuestion(string Variant, JobScope Scope, IReadOnlyList<int> Worn, KitPreference Prefer = KitPreference.Cost);
