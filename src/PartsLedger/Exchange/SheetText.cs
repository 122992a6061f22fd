using System.Text;

namespace PartsLedger.Exchange;

/// <summary>What a text must become before a cell of a sheet, or a terminal, may carry it.</summary>
public static class SheetText
{
    /// <summary>Longest text a cell may hold, in UTF-16 units.</summary>
    public const int MaxLength = 32_767;

    /// <summary>
    /// The text without what no sheet may hold and no terminal should be sent: control characters and halves of characters. A line
    /// break stays one line feed, other control characters become a space, half a character becomes U+FFFD; too long a text ends in "…".
    /// </summary>
    public static string Clean(string? text)
    {
        if (string.IsNullOrEmpty(text)) return "";
        var clean = new StringBuilder(text.Length);
        foreach (var rune in text.ReplaceLineEndings("\n").EnumerateRunes())
        {
            // XML 1.0 has no place for the last two of the basic plane.
            if (rune.Value is 0xFFFE or 0xFFFF) clean.Append('\uFFFD');
            else if (rune.Value != '\n' && Rune.IsControl(rune)) clean.Append(' ');
            else clean.Append(rune);
        }
        if (clean.Length <= MaxLength) return clean.ToString();
        var end = MaxLength - 1;
        if (char.IsHighSurrogate(clean[end - 1])) end--;
        return clean.ToString(0, end) + "…";
    }

    /// <summary>On one line: line breaks and runs of white space are one space.</summary>
    public static string OneLine(string? text) => string.Join(' ', Clean(text).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>Whether a spreadsheet would take the text for a formula if somebody typed it instead of reading it from a text cell.</summary>
    public static bool LooksLikeFormula(string text) => text.TrimStart() is ['=' or '+' or '-' or '@' or '\'', ..];
}
