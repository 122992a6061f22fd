using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

/// <summary>So many of a part go into one kit.</summary>
/// <param name="Quantity">Above zero.</param>
public sealed record RecipeLine(PartNumber Part, Quantity Quantity);

/// <summary>What one kit that the shop puts together itself is made of; each part once.</summary>
public sealed record KitRecipe(PartNumber Kit, IReadOnlyList<RecipeLine> Lines);

/// <summary>What building so many kits takes of one part, over all levels at which it is needed.</summary>
/// <param name="Level">The deepest level at which it goes in: 0 is the kit itself, 1 what lies in it.</param>
/// <param name="Needed">What all levels ask for together.</param>
/// <param name="FromShelf">What of it is there.</param>
/// <param name="Lacking">What is not: of a part that has a recipe so many are built, in whole pieces; of any other so many are missing.</param>
public sealed record RecipeNeed(PartNumber Part, int Level, Quantity Needed, Quantity FromShelf, Quantity Lacking, bool IsBuilt);

/// <summary>How far one component goes.</summary>
/// <param name="Available">Zero or more.</param>
/// <param name="EnoughFor">Whole kits that it is enough for.</param>
public sealed record ComponentReach(PartNumber Part, Quantity PerKit, Quantity Available, long EnoughFor);

/// <summary>How many kits can be built out of what is there.</summary>
/// <param name="Components">In the order of the recipe.</param>
/// <param name="Limiting">The components that are enough for no more, in the order of the recipe.</param>
public sealed record Buildable(long Count, IReadOnlyList<ComponentReach> Components, IReadOnlyList<PartNumber> Limiting);

/// <summary>How many kits could be built if the kits within were built first.</summary>
/// <param name="Missing">What one more would lack, by number.</param>
public sealed record BuildableInside(long Count, IReadOnlyList<PartNumber> Missing);
