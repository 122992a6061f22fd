using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>What the API can be asked about the shop's own kits.</summary>
public sealed class RecipeFields
{
    internal const string KitText = "The kit's part number; case, spaces, dashes, dots and slashes do not matter.";

    private RecipeFields() { }

    [Description("How the shop puts a kit together: the recipe in force, or an earlier version.")]
    public static async Task<RecipeView> Recipe([FromServices] Asking asking, [Description(KitText)] string kit,
        [Description("Which version; the one in force when left out.")] int? version = null, CancellationToken cancellation = default) =>
        new(await asking.Answer<RecipeOfKit.Query, RecipeOfKit.Answer>(new(kit, version), cancellation));

    [Description("Whether a kit covers a scope for variants, what it leaves uncovered and what must not be in it: by the recipe in force, or by lines that are "
        + "only being thought of.")]
    public static async Task<RecipeCheckView> RecipeCheck([FromServices] Asking asking, [Description(KitText)] string kit,
        [Description("What would go into one kit; by the recipe in force when left out.")] IReadOnlyList<RecipeLineInput>? lines = null,
        [Description("The variants' codes; those of the recipe in force when left out.")] IReadOnlyList<string>? variants = null,
        [Description("The scope of job; that of the recipe in force when left out.")] JobScope? scope = null, CancellationToken cancellation = default) =>
        new(await asking.Answer<CheckRecipe.Query, CheckRecipe.Answer>(new(kit, lines?.Read(line => line.Line()).OrRefuse(), variants, scope), cancellation));

    [Description("How many of a kit can be built now, which component limits, and what so many would need, lack and take from open jobs.")]
    public static async Task<CanBuildView> Buildable([FromServices] Asking asking, [Description(KitText)] string kit,
        [Description("How many kits `needs` and `fromJobs` are about.")] int count = 1, CancellationToken cancellation = default) =>
        new(await asking.Answer<CanBuild.Query, CanBuild.Answer>(new(kit, count), cancellation));
}

/// <summary>What the API can do with the shop's own kits.</summary>
public sealed class RecipeActs
{
    private RecipeActs() { }

    [Description("The shop says how it puts a kit together. The new version is in force from then on; earlier ones stay as they were.")]
    public static Task<Payload<DefinedRecipeView>> DefineRecipe([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId, [Description(RecipeFields.KitText)] string kit,
        [Description("What goes into one kit, 1 to 200 lines.")] IReadOnlyList<RecipeLineInput> lines,
        [Description("The codes of the variants it is meant for, 1 to 50.")] IReadOnlyList<string> variants,
        [Description("The scope of job it is meant for.")] JobScope scope,
        [Description("What is printed for whoever puts it together, at most 2000 characters.")] string? instructions = null,
        [Description("Why this version is made.")] string? why = null, CancellationToken cancellation = default) =>
        acting.Act<DefineRecipe.Command, DefineRecipe.Answer, DefinedRecipeView>(lines.Read(line => line.Line()).Then<DefineRecipe.Command>(read =>
            new DefineRecipe.Command(requestId, kit, read, variants, scope, instructions, why)), answer => new(answer), cancellation);
}
