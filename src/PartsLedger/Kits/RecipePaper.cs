using System.Globalization;
using PartsLedger.Exchange;
using PartsLedger.Hosting;

namespace PartsLedger.Kits;

/// <summary>
/// The paper for whoever puts a kit together, as PDF: <c>/recipe.pdf?kit=NUMBER&amp;version=2</c>, of the recipe in force where no version is
/// given.
/// </summary>
public static class RecipePaper
{
    public static void MapRecipePaper(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/recipe.pdf", async (Asking asking, string kit, int? version, CancellationToken cancellation) =>
        {
            var recipe = await asking.Ask<RecipeOfKit.Query, RecipeOfKit.Answer>(new(kit, version), cancellation);
            return recipe.Succeeded ? Results.File(Print(recipe.Result), "application/pdf")
                : Results.Text($"{recipe.Refusal}\n", statusCode: StatusCodes.Status404NotFound);
        });

    public static byte[] Print(RecipeOfKit.Answer recipe)
    {
        var version = recipe.Version.ToString(CultureInfo.InvariantCulture);
        using var paper = new PrintedPaper($"Recipe of {recipe.Kit}", $"Recipe of {recipe.Kit}, version {version}", KitPhrases.MakerComesFirst);
        paper.Line("WHAT GOES INTO THE KIT", 6, bold: true);
        paper.Gap(2);
        paper.Boxes(("Kit", recipe.Kit, 0.4, false), ("Version", recipe.InForce ? version : $"{version}, replaced", 0.3, !recipe.InForce),
            ("For jobs", KitPhrases.Of(recipe.Scope), 0.3, false));
        paper.Line(recipe.Name);
        paper.Line($"For variants {string.Join(", ", recipe.Variants)}.");
        paper.Heading("Contents of one kit");
        paper.Table([("Put in", 0.08), ("Part", 0.3), ("Name", 0.47), ("Quantity", 0.15)],
            [.. recipe.Lines.Select(line => (IReadOnlyList<string>)["[  ]", line.Part, line.Name, line.Quantity.ToString()])]);
        if (recipe.Instructions is { } instructions)
        {
            paper.Heading("How");
            foreach (var line in instructions.Split('\n')) paper.Line(line.TrimEnd('\r'));
        }
        paper.Gap(8);
        paper.Line($"Defined by {recipe.By}, {recipe.At.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}. Lot: ____________________     Put together by: ____________________", 2.7);
        return paper.Finish();
    }
}
