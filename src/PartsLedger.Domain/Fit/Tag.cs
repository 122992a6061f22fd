using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit;

/// <summary>
/// The tag on a housing, a valve, a pair or a core: letters, digits and dashes, 2 to 30 characters, found without regard to case.
/// Read strictly, because a tag that only looks right is how two halves get swapped.
/// </summary>
public static class Tag
{
    public const int MinLength = 2;
    public const int MaxLength = 30;

    /// <summary>The trimmed tag, or why it cannot be one: <c>TAG_INVISIBLE</c>, <c>TAG_LOOKALIKE</c>, <c>TAG_LENGTH</c>, <c>TAG_CHARACTER</c>.</summary>
    public static Outcome<string> Read(string? text)
    {
        var tag = (text ?? "").Trim(' ', '\t', '\r', '\n');
        if (tag.Length is < MinLength)
            return new Refusal("TAG_LENGTH", tag.Length == 0 ? "No tag was given." : $"'{tag}' is too short for a tag.", "Scan it again: the scanner may have read half of it.");
        if (tag.Any(character => char.IsControl(character) || char.IsWhiteSpace(character) || IsInvisible(character)))
            return new Refusal("TAG_INVISIBLE", "The tag has a space or an invisible character in it.",
                "Scan it again; if it stays, print the label anew. Two codes may have run together.");
        if (tag.FirstOrDefault(character => character > 127 && char.IsLetterOrDigit(character)) is var foreign and not '\0')
            return new Refusal("TAG_LOOKALIKE", $"The tag has the letter '{foreign}', which only looks like one of A to Z.", "Type it with the plain letters A to Z and digits.");
        if (tag.FirstOrDefault(character => !char.IsAsciiLetterOrDigit(character) && character != '-') is var odd and not '\0')
            return new Refusal("TAG_CHARACTER", $"A tag has no '{odd}' in it.", "Use letters A to Z, digits and dashes.");
        if (tag.Length > MaxLength)
            return new Refusal("TAG_LENGTH", $"'{tag[..MaxLength]}…' is too long for a tag.", "Scan one code at a time: two may have run together.");
        return tag;
    }

    /// <summary>The form by which a tag is found.</summary>
    public static string KeyOf(string tag) => Code.KeyOf(tag);

    private static bool IsInvisible(char character) =>
        char.GetUnicodeCategory(character) is System.Globalization.UnicodeCategory.Format or System.Globalization.UnicodeCategory.OtherNotAssigned;
}
