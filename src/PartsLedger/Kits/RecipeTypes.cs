using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Kits;

// Recipes of the shop's own kits as the API is told and answers.

[Name("RecipeLineInput")]
[Description("So many of a part go into one kit.")]
public sealed record RecipeLineInput
{
    [Description("The part's number; case, spaces, dashes, dots and slashes do not matter.")]
    public required string Part { get; init; }

    [Description("How many, in the part's unit; whole where it is counted in pieces.")]
    public required decimal Quantity { get; init; }

    internal Outcome<DefineRecipe.Line> Line() => Quantity.ToQuantity().Then<DefineRecipe.Line>(read => new DefineRecipe.Line(Part, read));
}

[Name("DefinedRecipe")]
[Description("A version of a recipe that is in force now.")]
public sealed class DefinedRecipeView(DefineRecipe.Answer answer)
{
    [Description("The kit's number, as written.")]
    public string Kit => answer.Kit;

    [Description("Which version it is, from 1.")]
    public int Version => answer.Version;

    [Description("What was done.")]
    public string Done => answer.Done;

    [Description("What the kit is worth to each variant it is meant for.")]
    public IEnumerable<RecipeVerdictView> Verdicts => answer.Verdicts.Select(verdict => new RecipeVerdictView(verdict));
}

[Name("RecipeCheck")]
[Description("What a recipe is worth to each variant that was asked about.")]
public sealed class RecipeCheckView(CheckRecipe.Answer answer)
{
    [Description("The kit's number, as written.")]
    public string Kit => answer.Kit;

    [Description("One for each variant, in the order asked.")]
    public IEnumerable<RecipeVerdictView> Verdicts => answer.Verdicts.Select(verdict => new RecipeVerdictView(verdict));
}

[Name("RecipeVerdict")]
[Description("What one kit by a recipe is worth to one variant in a job of one scope, by the rules of the kit answer.")]
public sealed class RecipeVerdictView(RecipeVerdict verdict)
{
    [Description("The variant's code.")]
    public string Variant => verdict.Variant;

    [Description("The scope it was held against.")]
    public JobScope Scope => verdict.Scope;

    [Description("Nothing that the scope needs is left uncovered.")]
    public bool Covers => verdict.Covers;

    [Description("What one kit leaves uncovered, and why.")]
    public IEnumerable<KitUncoveredView> Uncovered => verdict.Uncovered.Select(left => new KitUncoveredView(left));

    [Description("What is in the kit and no position of the scope asks for.")]
    public IEnumerable<KitSurplusView> Surplus => verdict.Surplus.Select(left => new KitSurplusView(left));

    [Description("What must not be in it.")]
    public IEnumerable<RecipeBreachView> Breaches => verdict.Breaches.Select(breach => new RecipeBreachView(breach.Code, breach.Part, breach.Sentence, breach.WhatToDo));
}

[Name("RecipeBreach")]
[Description("Something that must not be in a kit.")]
public sealed record RecipeBreachView(
    [property: Description("Upper case with underscores; stable.")] string Code,
    [property: Description("The part concerned, as written.")] string Part,
    [property: Description("What is wrong with it.")] string Sentence,
    [property: Description("The next sensible step.")] string WhatToDo);

[Name("Recipe")]
[Description("One version of how the shop puts a kit together.")]
public sealed class RecipeView(RecipeOfKit.Answer recipe)
{
    [Description("The kit's number, as written.")]
    public string Kit => recipe.Kit;

    [Description("What the kit is called.")]
    public string Name => recipe.Name;

    [Description("Which version it is, from 1.")]
    public int Version => recipe.Version;

    [Description("It is the latest: kits are built by it.")]
    public bool InForce => recipe.InForce;

    [Description("The scope of job it is meant for.")]
    public JobScope Scope => recipe.Scope;

    [Description("The variants it is meant for.")]
    public IReadOnlyList<string> Variants => recipe.Variants;

    [Description("What goes into one kit.")]
    public IEnumerable<RecipeLineView> Lines => recipe.Lines.Select(line => new RecipeLineView(line.Part, line.Name, line.Quantity.ToDecimal()));

    [Description("What is printed for whoever puts it together.")]
    public string? Instructions => recipe.Instructions;

    [Description("Why this version was made.")]
    public string? Why => recipe.Why;

    [Description("Who defined it.")]
    public string By => recipe.By;

    [Description("When it was defined, in UTC.")]
    public DateTimeOffset At => recipe.At;
}

[Name("RecipeLine")]
[Description("So many of a part in one kit.")]
public sealed record RecipeLineView(
    [property: Description("The part's number, as written.")] string Part,
    [property: Description("What it is called.")] string Name,
    [property: Description("How many, in the part's unit.")] decimal Quantity);

[Name("CanBuild")]
[Description("How many of a kit can be built, which component limits, and what so many would take.")]
public sealed class CanBuildView(CanBuild.Answer answer)
{
    [Description("The kit's number, as written.")]
    public string Kit => answer.Kit;

    [Description("The recipe's version in force.")]
    public int Version => answer.Version;

    [Description("The number of kits that `needs` and `fromJobs` are about.")]
    public int Count => answer.Count;

    [Description("Whole kits that can be built now out of free, new, unexpired pieces.")]
    public int Now => CanBuildViews.Whole(answer.Now.Count);

    [Description("The components that are enough for no more than `now`.")]
    public IEnumerable<string> LimitedBy => answer.Now.Limiting.Select(part => part.Text);

    [Description("Whole kits that could be built if everything that jobs have reserved were taken too.")]
    public int WithJobs => CanBuildViews.Whole(answer.WithJobs.Count);

    [Description("Whole kits that could be built now if the kits within were built first.")]
    public int Inside => CanBuildViews.Whole(answer.Inside.Count);

    [Description("What one more than `inside` would lack.")]
    public IEnumerable<string> InsideLimitedBy => answer.Inside.Missing.Select(part => part.Text);

    [Description("What goes into the kit, in the order of the recipe.")]
    public IEnumerable<ComponentReachView> Components => answer.Now.Components.Zip(answer.WithJobs.Components, (free, all) => new ComponentReachView(
        free.Part.Text, free.PerKit.ToDecimal(), free.Available.ToDecimal(), (all.Available - free.Available).ToDecimal(), CanBuildViews.Whole(free.EnoughFor)));

    [Description("What `count` kits need through all levels, kits within built as far as they are lacking; the kit itself first.")]
    public IEnumerable<RecipeNeedView> Needs => answer.Needs.Select(need => new RecipeNeedView(
        need.Part.Text, need.Level, need.Needed.ToDecimal(), need.FromShelf.ToDecimal(), need.Lacking.ToDecimal(), need.IsBuilt));

    [Description("What building `count` would take from open jobs because too few pieces are free.")]
    public IEnumerable<TakenFromJobView> FromJobs => answer.FromJobs.Select(taken => new TakenFromJobView(taken));

    [Description("What the parts of one kit cost by the catalogue, through all levels.")]
    public decimal UnitCost => answer.UnitCost.ToDecimal();
}

/// <summary>How figures about building are shown.</summary>
internal static class CanBuildViews
{
    /// <summary>More than a number of the API can say is as good as the largest.</summary>
    public static int Whole(long count) => (int)Math.Min(count, int.MaxValue);
}

[Name("ComponentReach")]
[Description("How far one component goes.")]
public sealed record ComponentReachView(
    [property: Description("The part's number, as written.")] string Part,
    [property: Description("How many go into one kit.")] decimal PerKit,
    [property: Description("Free, new and not expired.")] decimal Free,
    [property: Description("The same, but reserved by jobs.")] decimal Reserved,
    [property: Description("Whole kits that the free ones are enough for.")] int EnoughFor);

[Name("RecipeNeed")]
[Description("What building takes of one part over all levels.")]
public sealed record RecipeNeedView(
    [property: Description("The part's number, as written.")] string Part,
    [property: Description("The deepest level at which it goes in; 0 is the kit itself.")] int Level,
    [property: Description("How many are needed.")] decimal Needed,
    [property: Description("How many of them are free on the shelf.")] decimal FromShelf,
    [property: Description("How many are not: to be built where `built`, missing otherwise.")] decimal Lacking,
    [property: Description("It is a kit of the house with a recipe of its own.")] bool Built);

[Name("TakenFromJob")]
[Description("Pieces that a job has reserved and that go into kits.")]
public sealed class TakenFromJobView(TakenFromJob taken)
{
    [Description("The job's own number.")]
    public string Job => taken.Job;

    [Description("The part's number, as written.")]
    public string Part => taken.Part;

    [Description("How many, in the part's unit.")]
    public decimal Quantity => taken.Quantity.ToDecimal();
}
