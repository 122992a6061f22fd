using System.Globalization;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Identification;

/// <summary>
/// A number as somebody read it off a casting, a box or an old list, ready to be looked up: exactly by <see cref="Canonical"/>, forgivingly
/// by <see cref="NearKeys"/>. Only plain equality on an indexed <see cref="FoldedKeyOf"/> of the stored numbers is asked of a database, so
/// every database gives the same candidates, and nothing typed can act as a wildcard. <see cref="NumberMatch"/> judges and ranks them.
/// </summary>
public sealed class NumberQuery
{
    /// <summary>Longest number that is searched for, in characters of the canonical form.</summary>
    public const int MaxLength = 40;

    /// <summary>Shorter numbers, in characters of the canonical form, are searched without slips: everything short is one slip away.</summary>
    public const int MinForgivingLength = 3;

    /// <summary>
    /// Longest canonical form for which <see cref="NearKeys"/> also holds every changed character; above it only look-alikes, missing,
    /// extra and swapped characters are found, which keeps the keys below <see cref="MaxKeys"/>.
    /// </summary>
    public const int MaxChangedLength = 23;

    /// <summary>There are always fewer keys than this, well below the 2,100 parameters that a statement may have on SQL Server.</summary>
    public const int MaxKeys = 1_500;

    // Far more than a number and its punctuation need; what is longer is not even looked at.
    private const int MaxTextLength = 1_000;

    private NumberQuery(string canonical) => (Canonical, FoldedKey) = (canonical, FoldedKeyOf(canonical));

    /// <summary>Upper case, no spaces, dashes, dots or slashes; leading zeros kept.</summary>
    public string Canonical { get; }

    /// <summary><see cref="FoldedKeyOf"/> of <see cref="Canonical"/>.</summary>
    public string FoldedKey { get; }

    /// <summary>Long enough for slips to be forgiven.</summary>
    public bool IsForgiving => Canonical.Length >= MinForgivingLength;

    /// <returns>The query, or <c>NUMBER_EMPTY</c> (no letter and no digit) or <c>NUMBER_TOO_LONG</c>.</returns>
    public static Outcome<NumberQuery> Read(string? text)
    {
        text ??= "";
        if (text.Length > MaxTextLength) return TooLong;
        // Marks that are not seen, such as those for the direction of writing, come along when text is copied.
        var canonical = PartNumber.Canonical(string.Concat(text.Where(character => char.GetUnicodeCategory(character) != UnicodeCategory.Format)));
        if (!canonical.Any(char.IsLetterOrDigit))
            return new Refusal("NUMBER_EMPTY", "There is no letter and no digit to search for.", "Type the number as it stands on the part.");
        return canonical.Length > MaxLength ? TooLong : new NumberQuery(canonical);
    }

    private static Refusal TooLong => new("NUMBER_TOO_LONG", $"No number is longer than {MaxLength} letters and digits.",
        "Type one number only, without the text around it.");

    /// <summary>
    /// What a stored number is found by: look-alikes as their digits (O 0, I 1, Z 2, S 5, B 8), then without leading zeros; a number of
    /// zeros alone keeps one.
    /// </summary>
    /// <param name="canonical">The canonical form of a number (<see cref="PartNumber.Key"/>).</param>
    public static string FoldedKeyOf(string canonical)
    {
        ArgumentNullException.ThrowIfNull(canonical);
        return WithoutLeadingZeros(LookAlikes.Fold(canonical));
    }

    /// <summary>
    /// The folded keys of every number at most one slip away: one character missing or extra (at either end too), two neighbours swapped,
    /// one changed (see <see cref="MaxChangedLength"/>), each together with look-alikes and leading zeros. Fewer than <see cref="MaxKeys"/>,
    /// in ordinal order, each once, <see cref="FoldedKey"/> among them.
    /// </summary>
    /// <remarks>
    /// Slips are made in the number with its leading zeros and the zeros dropped afterwards, as a stored number's key was made. Characters
    /// put in are letters A to Z and digits: a number with another character is found when that character was typed.
    /// </remarks>
    public IReadOnlyList<string> NearKeys()
    {
        var keys = new HashSet<string>(StringComparer.Ordinal) { FoldedKey };
        if (IsForgiving)
            foreach (var near in OneEdit.Around(LookAlikes.Fold(Canonical), LookAlikes.FoldedAlphabet, Canonical.Length <= MaxChangedLength))
                keys.Add(WithoutLeadingZeros(near));
        Invariant.Holds(keys.Count < MaxKeys);
        return [.. keys.Order(StringComparer.Ordinal)];
    }

    internal static string WithoutLeadingZeros(string number) => number[LeadingZeros(number)..];

    /// <summary>How many zeros can be dropped in front: all but the last character's.</summary>
    internal static int LeadingZeros(string number)
    {
        var zeros = 0;
        while (zeros < number.Length - 1 && number[zeros] == '0') zeros++;
        return zeros;
    }

    public override string ToString() => Canonical;
}
