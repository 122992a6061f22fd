namespace PartsLedger.Domain.Identification;

/// <summary>What happened between what was meant and what was typed.</summary>
internal enum EditKind { Swapped, Missing, Extra, Changed }

/// <summary>The one slip between two texts, and its place in the longer of them, from 0.</summary>
internal readonly record struct OneEdit(EditKind Kind, int At)
{
    /// <summary>The single slip that makes <paramref name="typed"/> out of <paramref name="meant"/>; null when they are the same or further apart.</summary>
    /// <remarks>In a run of equal characters the place is the last of the run: nobody can tell which of them is missing.</remarks>
    public static OneEdit? Between(ReadOnlySpan<char> typed, ReadOnlySpan<char> meant)
    {
        var at = typed.CommonPrefixLength(meant);
        switch (typed.Length - meant.Length)
        {
            case -1: return typed[at..].SequenceEqual(meant[(at + 1)..]) ? new(EditKind.Missing, at) : null;
            case 1: return typed[(at + 1)..].SequenceEqual(meant[at..]) ? new(EditKind.Extra, at) : null;
            case 0 when at < typed.Length:
                if (typed[(at + 1)..].SequenceEqual(meant[(at + 1)..])) return new(EditKind.Changed, at);
                var isSwapped = at + 1 < typed.Length && typed[at] == meant[at + 1] && typed[at + 1] == meant[at]
                    && typed[(at + 2)..].SequenceEqual(meant[(at + 2)..]);
                return isSwapped ? new(EditKind.Swapped, at) : null;
            default: return null;
        }
    }

    /// <summary>Every text one slip away, with repeats: one character less, neighbours swapped, one more and, if asked for, one changed.</summary>
    public static IEnumerable<string> Around(string text, string alphabet, bool withChanges)
    {
        for (var at = 0; at < text.Length; at++) yield return text.Remove(at, 1);
        for (var at = 0; at + 1 < text.Length; at++) yield return $"{text[..at]}{text[at + 1]}{text[at]}{text[(at + 2)..]}";
        for (var at = 0; at <= text.Length; at++)
            foreach (var character in alphabet)
            {
                yield return $"{text[..at]}{character}{text[at..]}";
                if (withChanges && at < text.Length) yield return $"{text[..at]}{character}{text[(at + 1)..]}";
            }
    }
}
