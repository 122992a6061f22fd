using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// The recipes of kits that may lie in one another, and the arithmetic over them: what building takes, how many can be built, what one
/// costs. No kit lies in itself at any depth.
/// </summary>
public sealed class RecipeBook
{
    private readonly Dictionary<PartNumber, KitRecipe> _recipes;

    /// <exception cref="InvariantViolation">A recipe is empty, names a part twice or not above zero, or a kit lies in itself.</exception>
    public RecipeBook(IEnumerable<KitRecipe> recipes)
    {
        _recipes = recipes.ToDictionary(recipe => recipe.Kit);
        foreach (var recipe in _recipes.Values)
        {
            Invariant.Holds(recipe.Lines.Count > 0);
            Invariant.Holds(recipe.Lines.All(line => line.Quantity > Quantity.Zero));
            Invariant.Holds(recipe.Lines.DistinctBy(line => line.Part).Count() == recipe.Lines.Count);
        }
        var ids = _recipes.Values.SelectMany(recipe => recipe.Lines.Select(line => line.Part).Append(recipe.Kit)).Distinct().Index()
            .ToDictionary(part => part.Item, part => part.Index);
        var circles = Circles.ClosedBy([], [.. _recipes.Values.SelectMany(recipe => recipe.Lines.Select(line => (ids[recipe.Kit], ids[line.Part])))]);
        Invariant.Holds(circles.Count == 0);
    }

    public bool IsBuilt(PartNumber part) => _recipes.ContainsKey(part);

    public IReadOnlyList<RecipeLine> Of(PartNumber kit) => _recipes[kit].Lines;

    /// <summary>
    /// What building takes, level by level, and within a level by number: a part that is asked for at several levels counts at the
    /// deepest, once its whole need is known. What is there is used first; of kits within, only what is then lacking is built.
    /// </summary>
    /// <param name="available">What is there of a part; null for nothing, which gives the gross need.</param>
    /// <exception cref="OverflowException">A need is larger than any quantity.</exception>
    public IReadOnlyList<RecipeNeed> Explode(PartNumber kit, long count, Func<PartNumber, Quantity>? available = null)
    {
        var levels = Levels(kit);
        var needed = new Dictionary<PartNumber, Quantity> { [kit] = Quantity.FromWhole(count) };
        var needs = new List<RecipeNeed>();
        foreach (var (part, level) in levels.OrderBy(entry => entry.Value).ThenBy(entry => entry.Key))
        {
            var wanted = needed.GetValueOrDefault(part);
            var there = part == kit ? Quantity.Zero : available?.Invoke(part) ?? Quantity.Zero;
            var fromShelf = Quantity.Min(wanted, Quantity.Max(there, Quantity.Zero));
            var lacking = IsBuilt(part) ? Whole(wanted - fromShelf) : wanted - fromShelf;
            needs.Add(new(part, level, wanted, fromShelf, lacking, IsBuilt(part)));
            if (!IsBuilt(part) || lacking == Quantity.Zero) continue;
            foreach (var line in Of(part)) needed[line.Part] = needed.GetValueOrDefault(line.Part) + line.Quantity * lacking;
        }
        return needs;
    }

    /// <summary>How many can be built out of what lies in the kit at once: kits within count as they are.</summary>
    public Buildable CanBuild(PartNumber kit, Func<PartNumber, Quantity> available)
    {
        var components = Of(kit).Select(line =>
        {
            var there = Quantity.Max(available(line.Part), Quantity.Zero);
            return new ComponentReach(line.Part, line.Quantity, there, there.Thousandths / line.Quantity.Thousandths);
        }).ToList();
        var count = components.Min(component => component.EnoughFor);
        return new(count, components, [.. components.Where(component => component.EnoughFor == count).Select(component => component.Part)]);
    }

    /// <summary>The most that can be built when kits within are built first as far as they are lacking.</summary>
    public BuildableInside CanBuildInside(PartNumber kit, Func<PartNumber, Quantity> available)
    {
        // Needs only grow with the count, so the last feasible one is found by halving.
        var (enough, tooMany) = (0L, 1L);
        while (Missing(tooMany).Count == 0) (enough, tooMany) = (tooMany, checked(tooMany * 2));
        while (tooMany - enough > 1)
        {
            var middle = enough + (tooMany - enough) / 2;
            if (Missing(middle).Count == 0) enough = middle;
            else tooMany = middle;
        }
        return new(enough, Missing(enough + 1));

        IReadOnlyList<PartNumber> Missing(long count)
        {
            try
            {
                return [.. Explode(kit, count, available).Where(need => !need.IsBuilt && need.Lacking > Quantity.Zero).Select(need => need.Part).Order()];
            }
            catch (OverflowException)
            {
                // More than any quantity can say is more than is there.
                return [kit];
            }
        }
    }

    /// <summary>What the parts of one kit cost through all levels: summed exactly, rounded once, half up.</summary>
    /// <param name="costOf">What one piece of a part that is not built costs; zero or more.</param>
    /// <exception cref="OverflowException">The cost is larger than any amount.</exception>
    public Money CostOf(PartNumber kit, Func<PartNumber, Money> costOf)
    {
        var sum = Explode(kit, 1).Where(need => !need.IsBuilt)
            .Aggregate(Int128.Zero, (total, need) => total + (Int128)costOf(need.Part).TenThousandths * need.Lacking.Thousandths);
        return Money.FromTenThousandths(checked((long)((sum * 2 + Quantity.PerWhole) / (2 * Quantity.PerWhole))));
    }

    private static Quantity Whole(Quantity quantity) => quantity.IsWhole ? quantity : Quantity.FromWhole(quantity.WholeFloor + 1);

    private Dictionary<PartNumber, int> Levels(PartNumber kit)
    {
        var levels = new Dictionary<PartNumber, int>();
        Sink(kit, 0);
        return levels;

        void Sink(PartNumber part, int level)
        {
            if (levels.TryGetValue(part, out var known) && known >= level) return;
            levels[part] = level;
            if (!IsBuilt(part)) return;
            foreach (var line in Of(part)) Sink(line.Part, level + 1);
        }
    }
}
