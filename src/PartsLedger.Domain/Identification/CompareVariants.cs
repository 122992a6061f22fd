using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Identification;

/// <summary>A place in a variant's parts list.</summary>
public sealed record ComparedPosition(int Number, string Name, PartNumber Part, Quantity Quantity);

/// <summary>What is known of a variant, to be set beside others.</summary>
/// <param name="PressureClass">Null where none is stated.</param>
/// <param name="Positions">Each number once.</param>
/// <param name="Features">Feature and recorded value.</param>
/// <param name="Applications">Where it is used.</param>
public sealed record ComparedVariant(string Code, string Family, string? PressureClass, IReadOnlyList<ComparedPosition> Positions,
    IReadOnlyList<Observation> Features, IReadOnlyList<MachineApplication> Applications);

/// <summary>What a row of a comparison is about, in the order rows are shown.</summary>
public enum ComparedAspect { Family, PressureClass, Position, Feature, UsedIn }

/// <summary>One row: what each variant has, in the order the variants were given; null where it has nothing.</summary>
/// <param name="Name">The position's number and name, the feature, or the machine.</param>
/// <param name="Differs">Not all the same. A value that is not recorded differs from one that is.</param>
public sealed record ComparedRow(ComparedAspect Aspect, string Name, IReadOnlyList<string?> Values, bool Differs);

/// <summary>Variants side by side.</summary>
/// <param name="Variants">Their codes, in the order given.</param>
/// <param name="Same">How many rows are the same for all, whether they are shown or not.</param>
public sealed record VariantComparison(IReadOnlyList<string> Variants, IReadOnlyList<ComparedRow> Rows, int Same);

/// <summary>Sets two to six variants side by side: family, pressure class, positions and their parts, features, and where each is used.</summary>
public static class CompareVariants
{
    public const int Fewest = 2, Most = 6;

    /// <summary>Parts are compared by canonical number and quantity, everything else by <see cref="Code.KeyOf"/>; shown as written.</summary>
    /// <param name="onlyDifferences">Leaves out the rows that are the same for all.</param>
    /// <returns>The comparison, or <c>TOO_FEW_VARIANTS</c>, <c>TOO_MANY_VARIANTS</c> or <c>SAME_VARIANT</c>.</returns>
    /// <remarks>Positions by number, features by name, machines by make, model, option and years, ordinally.</remarks>
    public static Outcome<VariantComparison> Compare(IReadOnlyList<ComparedVariant> variants, bool onlyDifferences = true)
    {
        ArgumentNullException.ThrowIfNull(variants);
        if (variants.Count < Fewest)
            return new Refusal("TOO_FEW_VARIANTS", $"It takes at least {Fewest} variants to compare.", "Choose another variant.");
        if (variants.Count > Most)
            return new Refusal("TOO_MANY_VARIANTS", $"At most {Most} variants fit side by side.", "Leave some out.");
        if (variants.GroupBy(variant => Code.KeyOf(variant.Code), StringComparer.Ordinal).FirstOrDefault(same => same.Skip(1).Any()) is { } twice)
            return new Refusal("SAME_VARIANT", $"Variant {twice.First().Code} stands twice.", "Choose different variants.");

        var rows = new List<ComparedRow>
        {
            Row(ComparedAspect.Family, "Family", variants, variant => new(Code.KeyOf(variant.Family), variant.Family)),
            Row(ComparedAspect.PressureClass, "Pressure class", variants, variant =>
                variant.PressureClass is { } code ? new(Code.KeyOf(code), code) : null),
        };
        rows.AddRange(variants.SelectMany(variant => variant.Positions).GroupBy(position => position.Number).OrderBy(position => position.Key)
            .Select(position => Row(ComparedAspect.Position, $"{position.Key} {Name(position)}", variants, variant => PartAt(variant, position.Key))));
        rows.AddRange(variants.SelectMany(variant => variant.Features).GroupBy(feature => Code.KeyOf(feature.Feature), StringComparer.Ordinal)
            .OrderBy(feature => feature.Key, StringComparer.Ordinal)
            .Select(feature => Row(ComparedAspect.Feature, feature.First().Feature, variants, variant => ValueOf(variant, feature.Key))));
        rows.AddRange(variants.SelectMany(variant => variant.Applications).GroupBy(KeyOf, StringComparer.Ordinal)
            .OrderBy(machine => machine.Key, StringComparer.Ordinal)
            .Select(machine => Row(ComparedAspect.UsedIn, NameOf(machine.First()), variants, variant => YearsIn(variant, machine.Key))));
        return new VariantComparison([.. variants.Select(variant => variant.Code)], [.. rows.Where(row => row.Differs || !onlyDifferences)],
            rows.Count(row => !row.Differs));
    }

    private sealed record Cell(string Key, string Text);

    private static ComparedRow Row(ComparedAspect aspect, string name, IReadOnlyList<ComparedVariant> variants, Func<ComparedVariant, Cell?> cell)
    {
        var cells = variants.Select(cell).ToList();
        return new(aspect, name, [.. cells.Select(one => one?.Text)], cells.Any(one => one?.Key != cells[0]?.Key));
    }

    /// <summary>The names a position has among the variants, each once.</summary>
    private static string Name(IEnumerable<ComparedPosition> positions) =>
        string.Join(" / ", positions.Select(position => position.Name).Distinct(StringComparer.OrdinalIgnoreCase));

    private static Cell? PartAt(ComparedVariant variant, int number) =>
        variant.Positions.FirstOrDefault(position => position.Number == number) is not { } found ? null
            : new($"{found.Quantity.Thousandths} {found.Part.Key}", $"{found.Quantity} × {found.Part.Text}");

    private static Cell? ValueOf(ComparedVariant variant, string feature) =>
        variant.Features.FirstOrDefault(seen => Code.KeyOf(seen.Feature) == feature) is not { } found || string.IsNullOrWhiteSpace(found.Value) ? null
            : new(Code.KeyOf(found.Value), found.Value);

    /// <summary>A machine without its years: these are what is compared.</summary>
    private static string KeyOf(MachineApplication machine) =>
        string.Join('\n', Code.KeyOf(machine.Make), Code.KeyOf(machine.Model), Code.KeyOf(machine.Option));

    private static string NameOf(MachineApplication machine) =>
        string.IsNullOrWhiteSpace(machine.Option) ? $"{machine.Make} {machine.Model}" : $"{machine.Make} {machine.Model}, {machine.Option}";

    private static Cell? YearsIn(ComparedVariant variant, string machine)
    {
        var years = variant.Applications.Where(application => KeyOf(application) == machine)
            .OrderBy(application => application.YearFrom ?? int.MinValue).ThenBy(application => application.YearTo ?? int.MaxValue)
            .Select(application => application.Years.Length == 0 ? "used" : application.Years).Distinct(StringComparer.Ordinal).ToList();
        if (years.Count == 0) return null;
        var text = string.Join(", ", years);
        return new(text, text);
    }
}
