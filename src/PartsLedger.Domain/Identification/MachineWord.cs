namespace PartsLedger.Domain.Identification;

/// <summary>How a typed word answers a known one, best first.</summary>
public enum MachineWordFit { Exact, Beginning, Slip, BeginningWithSlip, None }

/// <summary>
/// Compares words of a machine's name, upper case. Words of four or more characters may be one slip apart; a word of digits alone is a
/// different model when one digit is different, so it must be as written.
/// </summary>
public static class MachineWord
{
    /// <summary>Shorter words must be as written, in characters.</summary>
    public const int MinForgivingLength = 4;

    /// <summary>Longer words must be as written, in characters; it keeps <see cref="Near"/> below 1,500 words.</summary>
    public const int MaxForgivingLength = 19;

    private const string Alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

    /// <summary>Letters and digits as runs, upper case: <c>Skerry-19</c> is SKERRY and 19.</summary>
    public static IReadOnlyList<string> Split(string? text)
    {
        var words = new List<string>();
        var start = -1;
        text = (text ?? "").ToUpperInvariant();
        for (var at = 0; at <= text.Length; at++)
        {
            var isPart = at < text.Length && char.IsLetterOrDigit(text[at]);
            if (isPart && start < 0) start = at;
            if (isPart || start < 0) continue;
            words.Add(text[start..at]);
            start = -1;
        }
        return words;
    }

    /// <summary>
    /// The words under which an application is to be found: those of make, model and option, and each two neighbours written together, each
    /// once, in ordinal order. What <see cref="MachineText.Match"/> knows of an application is among these.
    /// </summary>
    public static IReadOnlyList<string> Indexed(string make, string model, string? option)
    {
        List<string> words = [.. Split(make), .. Split(model), .. Split(option)];
        return [.. words.Concat(words.Zip(words.Skip(1), string.Concat)).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
    }

    /// <param name="isUnfinished">The word may still be being typed: the beginning of the known word is enough.</param>
    public static MachineWordFit Compare(string typed, string known, bool isUnfinished)
    {
        ArgumentNullException.ThrowIfNull(typed);
        ArgumentNullException.ThrowIfNull(known);
        if (typed.Length == 0) return MachineWordFit.None;
        if (typed == known) return MachineWordFit.Exact;
        if (isUnfinished && known.StartsWith(typed, StringComparison.Ordinal)) return MachineWordFit.Beginning;
        if (!IsForgiving(typed)) return MachineWordFit.None;
        if (known.Length >= MinForgivingLength && OneEdit.Between(typed, known) is not null) return MachineWordFit.Slip;
        if (isUnfinished)
            for (var length = typed.Length - 1; length <= Math.Min(typed.Length + 1, known.Length - 1); length++)
                if (OneEdit.Between(typed, known.AsSpan(..length)) is not null) return MachineWordFit.BeginningWithSlip;
        return MachineWordFit.None;
    }

    /// <summary>
    /// Every word that answers a finished word, for looking known words up by equality: the word itself, and where slips are forgiven
    /// every word one slip away. Fewer than 1,500, each once, in ordinal order. Letters put in are A to Z.
    /// </summary>
    public static IReadOnlyList<string> Near(string word)
    {
        ArgumentNullException.ThrowIfNull(word);
        var near = new HashSet<string>(StringComparer.Ordinal) { word };
        if (IsForgiving(word))
            near.UnionWith(OneEdit.Around(word, Alphabet, withChanges: true).Where(other => other.Length >= MinForgivingLength));
        return [.. near.Order(StringComparer.Ordinal)];
    }

    private static bool IsForgiving(string word) =>
        word.Length is >= MinForgivingLength and <= MaxForgivingLength && !word.All(char.IsAsciiDigit);
}
