using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Catalog;

/// <summary>The catalogue's refusals of names it does not know, each with the nearest it does.</summary>
public static class Unknown
{
    public static Refusal Variant(string wanted, IReadOnlyCollection<string> known) => Of("UNKNOWN_VARIANT", "variant", wanted, known);
    public static Refusal Family(string wanted, IReadOnlyCollection<string> known) => Of("UNKNOWN_FAMILY", "family", wanted, known);
    public static Refusal PressureClass(string wanted, IReadOnlyCollection<string> known) =>
        Of("UNKNOWN_PRESSURE_CLASS", "pressure class", wanted, known);
    public static Refusal Part(string wanted, IReadOnlyCollection<string> known) => Of("UNKNOWN_PART", "part", wanted, known);

    public static Refusal Feature(string wanted, IReadOnlyCollection<string> known) => Of("UNKNOWN_FEATURE", "feature", wanted, known);

    private static Refusal Of(string code, string what, string wanted, IReadOnlyCollection<string> known)
    {
        // Longer than any name can be: not worth comparing, which takes time in proportion to both lengths.
        if (wanted.Length > Code.MaxLength)
            return new(code, $"No {what} has a name of {wanted.Length} characters.", $"A {what}'s name has at most {Code.MaxLength}.");
        var nearest = Nearest.To(wanted, known);
        return new(code, $"There is no {what} '{wanted}'.", nearest.Count == 0
            ? $"No {what} like it is known: try the beginning of the name, or import the catalogue first."
            : $"The nearest known {(nearest.Count == 1 ? "one is" : "ones are")} {string.Join(", ", nearest)}.");
    }
}
