namespace PartsLedger.Domain.Identification;

/// <summary>Letters that a worn casting or a hasty hand makes look like digits: O and 0, I and 1, Z and 2, S and 5, B and 8.</summary>
internal static class LookAlikes
{
    /// <summary>Every letter and digit after folding, in ordinal order.</summary>
    public const string FoldedAlphabet = "0123456789ACDEFGHJKLMNPQRTUVWXY";

    public static char Fold(char character) => character switch
    {
        'O' => '0',
        'I' => '1',
        'Z' => '2',
        'S' => '5',
        'B' => '8',
        _ => character,
    };

    public static string Fold(string text) => string.Create(text.Length, text, static (span, source) =>
    {
        for (var at = 0; at < span.Length; at++) span[at] = Fold(source[at]);
    });

    /// <summary>How one character was read as the other: <c>letter O read as zero</c>.</summary>
    public static string Reading(char typed, char stored) => $"{Name(typed)} read as {Name(stored)}";

    private static string Name(char character) => character switch
    {
        '0' => "zero",
        '1' => "one",
        '2' => "two",
        '5' => "five",
        '8' => "eight",
        _ => $"letter {character}",
    };
}
