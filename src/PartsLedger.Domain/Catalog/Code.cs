namespace PartsLedger.Domain.Catalog;

/// <summary>How codes and names that identify something (a variant, a bin, a make) are compared: see <see cref="KeyOf"/>.</summary>
public static class Code
{
    /// <summary>Longest code accepted, in characters.</summary>
    public const int MaxLength = 100;

    /// <summary>
    /// The form by which a code is found: trimmed, runs of white space as one space, upper case. Unlike a part number's
    /// canonical form it keeps its punctuation: <c>A-1</c> and <c>A1</c> may be two bins.
    /// </summary>
    public static string KeyOf(string? text) =>
        string.Join(' ', (text ?? "").Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).ToUpperInvariant();
}
