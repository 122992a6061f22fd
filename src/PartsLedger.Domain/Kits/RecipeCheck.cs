using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

/// <summary>Something that must not be in a kit, or not in a kit for this variant.</summary>
/// <param name="Code">Upper case with underscores; stable.</param>
/// <param name="Part">The part concerned, as written.</param>
public sealed record RecipeBreach(string Code, string Part, string Sentence, string WhatToDo);

/// <summary>What one kit by a recipe is worth to one variant in a job of one scope.</summary>
/// <param name="Covers">Nothing the scope needs is left uncovered.</param>
/// <param name="Surplus">What is in the kit and no position of the scope asks for.</param>
/// <param name="Breaches">What must not be in it; in the order of the parts.</param>
public sealed record RecipeVerdict(
    string Variant, JobScope Scope, bool Covers, IReadOnlyList<KitNeed> Needs, IReadOnlyList<KitUncovered> Uncovered,
    IReadOnlyList<KitSurplus> Surplus, IReadOnlyList<RecipeBreach> Breaches);

/// <summary>
/// Holds a recipe against a variant by the very rules of the kit answer: the question is asked of a shop that has one such kit and nothing
/// else, so positions, supersessions, service, class and selective fit mean here what they mean at the counter.
/// </summary>
public static class RecipeCheck
{
    /// <param name="catalogue">Knows the variant and, besides, the kit and everything in it at every depth.</param>
    public static RecipeVerdict Of(KitCatalogue catalogue, KitRecipe recipe, JobScope scope, CancellationToken cancellation = default)
    {
        var contents = catalogue.Contents.Where(content => content.Pack != recipe.Kit)
            .Concat(recipe.Lines.Select(line => new PackContent(recipe.Kit, line.Part, line.Quantity))).ToList();
        var alone = catalogue with
        {
            Contents = contents, Pairs = [],
            Parts = catalogue.Parts.ToDictionary(part => part.Key, part => part.Value with
            {
                Supplied = false, Available = part.Key == recipe.Kit ? Quantity.FromWhole(1) : Quantity.Zero,
            }),
        };
        var inside = Inside(contents, recipe.Kit);
        var succession = new KitSuccession(catalogue.Supersessions);
        var answer = KitAnswering.Answer(alone, new KitQuestion(catalogue.Variant.Code, scope, []), cancellation).Result;
        return new(catalogue.Variant.Code, scope, answer.Complete, answer.Needs,
            [.. answer.Uncovered.Select(left => left with { Why = Why(catalogue, succession, recipe.Kit, inside, left) })],
            answer.Lines.Count > 0 ? answer.Surplus : [.. inside.Where(part => !contents.Exists(content => content.Pack == part.Key))
                .Select(part => new KitSurplus(catalogue.Parts[part.Key].Number.Text, part.Value))],
            Breaches(catalogue, succession, recipe.Kit, inside.Keys));
    }

    /// <summary>What is in one kit, packs and what is in them, each part once.</summary>
    private static SortedDictionary<PartNumber, Quantity> Inside(List<PackContent> contents, PartNumber kit)
    {
        var inPack = contents.ToLookup(content => content.Pack);
        var inside = new SortedDictionary<PartNumber, Quantity>();
        Open(kit, Quantity.FromWhole(1));
        return inside;

        void Open(PartNumber pack, Quantity packs)
        {
            foreach (var content in inPack[pack])
            {
                inside[content.Part] = inside.GetValueOrDefault(content.Part) + packs * content.Quantity;
                Open(content.Part, packs * content.Quantity);
            }
        }
    }

    private static List<RecipeBreach> Breaches(
        KitCatalogue catalogue, KitSuccession succession, PartNumber kit, IEnumerable<PartNumber> inside)
    {
        var breaches = new List<RecipeBreach>();
        var parts = inside.Select(part => catalogue.Parts[part]).ToList();
        var classes = parts.Append(catalogue.Parts[kit]).Where(part => part.PressureClass is not null)
            .GroupBy(part => part.PressureClass!).OrderBy(group => group.Key, StringComparer.Ordinal).ToList();
        if (classes is [var first, var second, ..])
            breaches.Add(new("TWO_CLASSES", second.First().Number.Text,
                $"{first.First().Number} is of class {first.Key} and {second.First().Number} of class {second.Key}: one kit holds parts of two pressure classes.",
                "Make a kit for each class."));
        foreach (var part in parts)
        {
            if (part.PressureClass is { } own && own != catalogue.Variant.PressureClass)
                breaches.Add(new("OTHER_CLASS", part.Number.Text,
                    $"{part.Number} is of class {own}; variant {catalogue.Variant.Code} is of class {catalogue.Variant.PressureClass}.",
                    "Take it out, or do not say that the kit serves this variant."));
            if (part.Kind == PartKind.Valve && catalogue.Variant.ValveFit == ValveFit.Selective)
                breaches.Add(new("VALVE_IS_FITTED", part.Number.Text,
                    $"{part.Number} is a valve, and in family {catalogue.Variant.Family} a valve is fitted to its housing by selection: it never goes into a kit.",
                    "Take it out: an assembly or a matched pair brings valve and housing together."));
            if (part.Service is PartService.AssemblyOnly or PartService.None)
                breaches.Add(new("NOT_SERVICED", part.Number.Text, part.Service == PartService.None
                    ? $"{part.Number} is no longer to be had, not even inside a pack." : $"{part.Number} is only had inside an assembly.",
                    "Take it out of the recipe."));
            if (succession.IsOld(part.Number) && !succession.IsUsedUp(part.Number))
                breaches.Add(new("REPLACED_NUMBER", part.Number.Text,
                    $"{part.Number} was replaced by {KitWords.Listed([.. succession.Today(part.Number, Quantity.FromWhole(1))
                        .Select(today => $"{today.Quantity} × {catalogue.Parts[today.Part].Number}")])} and no longer counts.",
                    "Put today's number into the recipe."));
        }
        return breaches;
    }

    /// <summary>Why the kit leaves this uncovered, nearest cause first.</summary>
    private static string Why(
        KitCatalogue catalogue, KitSuccession succession, PartNumber kit, SortedDictionary<PartNumber, Quantity> inside, KitUncovered left)
    {
        var part = catalogue.Parts[new PartNumber(left.Part)];
        var other = inside.Keys.Append(kit).Select(number => catalogue.Parts[number])
            .FirstOrDefault(one => one.PressureClass is { } own && own != catalogue.Variant.PressureClass);
        if (other is not null) return $"The kit holds {other.Number} of class {other.PressureClass} and is never offered for this variant.";
        if (catalogue.Parts[kit].Service != PartService.Separate)
            return $"The kit itself has the service '{Words.Of(catalogue.Parts[kit].Service)}' and is never offered by itself.";
        if (part.Kind == PartKind.Valve && catalogue.Variant.ValveFit == ValveFit.Selective)
            return "Fitted to its housing by selection: an assembly or a matched pair brings both.";
        if (part.Service == PartService.AssemblyOnly) return "Only had inside an assembly, never in a kit.";
        if (part.Service == PartService.None) return "No longer to be had.";
        if (inside.TryGetValue(part.Number, out var there)) return $"The kit holds {there}, which is not enough.";
        var old = inside.Keys.FirstOrDefault(number => succession.IsOld(number)
            && succession.Today(number, Quantity.FromWhole(1)).Any(today => today.Part == part.Number));
        return old.IsEmpty ? "Not in the recipe." : $"The recipe lists the old number {catalogue.Parts[old].Number}, which does not count as {part.Number}.";
    }
}
