using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>Makes a catalogue that shows a fault smaller, fact by fact, as long as it still shows it.</summary>
internal static class SmallestCatalogue
{
    /// <param name="showsFault">Whether a catalogue still shows the fault; true for the one given.</param>
    public static (KitCatalogue Catalogue, KitQuestion Question) Of(
        KitCatalogue catalogue, KitQuestion question, Func<KitCatalogue, KitQuestion, bool> showsFault)
    {
        while (true)
        {
            var simpler = Simpler(catalogue, question).Where(each => showsFault(each.Catalogue, each.Question)).Take(1).ToArray();
            if (simpler.Length == 0) return (catalogue, question);
            (catalogue, question) = simpler[0];
        }
    }

    private static IEnumerable<(KitCatalogue Catalogue, KitQuestion Question)> Simpler(KitCatalogue whole, KitQuestion question)
    {
        foreach (var positions in Without(whole.Variant.Positions))
            yield return (whole with { Variant = whole.Variant with { Positions = positions } }, question);
        foreach (var pairs in Without(whole.Pairs)) yield return (whole with { Pairs = pairs }, question);
        foreach (var contents in Without(whole.Contents)) yield return (whole with { Contents = contents }, question);
        foreach (var steps in Without(whole.Supersessions)) yield return (whole with { Supersessions = steps }, question);
        foreach (var worn in Without(question.Worn)) yield return (whole, question with { Worn = worn });
        foreach (var part in whole.Parts.Values.Where(part => !IsNamed(whole, part.Number)))
            yield return (whole with { Parts = whole.Parts.Where(entry => entry.Key != part.Number).ToDictionary() }, question);
        foreach (var part in whole.Parts.Values)
            foreach (var simpler in Simpler(part).Where(simpler => simpler != part))
            {
                var parts = whole.Parts.ToDictionary();
                parts[part.Number] = simpler;
                yield return (whole with { Parts = parts }, question);
            }
        foreach (var position in whole.Variant.Positions.Where(position => position.Quantity != Quantity.FromWhole(1)))
            yield return (whole with { Variant = whole.Variant with { Positions = [.. whole.Variant.Positions
                .Select(each => each == position ? each with { Quantity = Quantity.FromWhole(1) } : each)] } }, question);
        foreach (var content in whole.Contents.Where(content => content.Quantity != Quantity.FromWhole(1)))
            yield return (whole with { Contents = [.. whole.Contents
                .Select(each => each == content ? each with { Quantity = Quantity.FromWhole(1) } : each)] }, question);
    }

    private static IEnumerable<KitPart> Simpler(KitPart part) =>
    [
        part with { Cost = Money.Zero }, part with { Available = Quantity.Zero }, part with { PressureClass = null },
        part.Service == PartService.Separate ? part : part with { Service = PartService.Separate }, part with { Supplied = true },
    ];

    private static bool IsNamed(KitCatalogue whole, PartNumber number) =>
        whole.Variant.Positions.Any(position => position.Part == number)
        || whole.Contents.Any(content => content.Pack == number || content.Part == number)
        || whole.Supersessions.Any(step => step.Old == number || step.New == number)
        || whole.Pairs.Any(pair => pair.Housing == number || pair.Valve == number);

    private static IEnumerable<T[]> Without<T>(IReadOnlyList<T> list) =>
        Enumerable.Range(0, list.Count).Select(at => list.Where((_, index) => index != at).ToArray());
}
