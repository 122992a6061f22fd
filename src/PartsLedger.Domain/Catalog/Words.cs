using System.Collections.Frozen;

namespace PartsLedger.Domain.Catalog;

/// <summary>
/// The one place where the trade's words and the program's enumerations meet. A word is the enumeration's name in lower case with
/// dashes (<c>KitOnly</c> is <c>kit-only</c>); the same word stands in files, in the database and on the screen.
/// </summary>
public static class Words
{
    public static string Of<T>(T value) where T : struct, Enum => Vocabulary<T>.ByValue[value];

    /// <summary>Every known word of <typeparamref name="T"/>, in the order of its declaration.</summary>
    public static IReadOnlyList<string> All<T>() where T : struct, Enum => Vocabulary<T>.Ordered;

    /// <summary>Reads a word without regard to case and outer white space; a space or underscore counts as a dash.</summary>
    public static bool TryParse<T>(string? word, out T value) where T : struct, Enum =>
        Vocabulary<T>.ByWord.TryGetValue((word ?? "").Trim().Replace(' ', '-').Replace('_', '-'), out value);

    /// <exception cref="ArgumentException">The word is not one of <typeparamref name="T"/>'s.</exception>
    public static T Parse<T>(string word) where T : struct, Enum => TryParse(word, out T value)
        ? value
        : throw new ArgumentException($"'{word}' is none of {string.Join(", ", All<T>())}.", nameof(word));

    private static class Vocabulary<T> where T : struct, Enum
    {
        public static readonly string[] Ordered = [.. Enum.GetValues<T>().Select(Dashed)];
        public static readonly FrozenDictionary<T, string> ByValue = Enum.GetValues<T>().ToFrozenDictionary(value => value, Dashed);
        public static readonly FrozenDictionary<string, T> ByWord =
            Enum.GetValues<T>().ToFrozenDictionary(Dashed, StringComparer.OrdinalIgnoreCase);

        private static string Dashed(T value) => string.Concat(value.ToString().Select((character, at) =>
            char.IsUpper(character) ? (at == 0 ? "" : "-") + char.ToLowerInvariant(character) : character.ToString()));
    }
}
