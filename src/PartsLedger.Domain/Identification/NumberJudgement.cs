using System.Globalization;

namespace PartsLedger.Domain.Identification;

/// <summary>
/// Compares a typed number with a stored one: as written, without leading zeros, with look-alikes folded, and one slip apart in each of
/// these ways; the best of them counts.
/// </summary>
/// <remarks>
/// A slip together with leading zeros is sought by lining the stored number up: its zeros are dropped and just so many put in front that
/// its length is the typed one's, give or take one. Thus everything that <see cref="NumberQuery.NearKeys"/> finds is recognised here.
/// </remarks>
internal static class NumberJudgement
{
    public static NumberMatch Of(NumberQuery query, string stored)
    {
        var typed = query.Canonical;
        if (typed == stored) return new(stored, NumberMatchKind.Exact, false, false, "exactly as written");

        NumberMatch best = new(stored, NumberMatchKind.None, false, false, "another number");
        foreach (var isFolded in new[] { false, true })
            foreach (var lined in LinedUp(typed, stored, isFolded))
                if (Compare(query, stored, lined, isFolded) is { } match && match < best) best = match;
        return best;
    }

    /// <summary>The stored number as it is, then with other zeros in front where that brings it to the typed one's length or one off.</summary>
    private static IEnumerable<string> LinedUp(string typed, string stored, bool isFolded)
    {
        yield return stored;
        if (stored.Length == 0) yield break;
        var bare = stored[NumberQuery.LeadingZeros(isFolded ? LookAlikes.Fold(stored) : stored)..];
        for (var length = Math.Max(bare.Length, typed.Length - 1); length <= typed.Length + 1; length++)
        {
            var lined = bare.PadLeft(length, '0');
            if (lined.Length != stored.Length) yield return lined;
        }
    }

    private static NumberMatch? Compare(NumberQuery query, string stored, string lined, bool isFolded)
    {
        var typed = query.Canonical;
        var (left, right) = isFolded ? (LookAlikes.Fold(typed), LookAlikes.Fold(lined)) : (typed, lined);
        var withZeros = lined.Length != stored.Length;
        var words = new List<string>();
        NumberMatchKind kind;
        string[] readings;
        if (left == right)
        {
            readings = Readings(typed, lined, null);
            kind = isFolded ? NumberMatchKind.LookAlike : NumberMatchKind.LeadingZeros;
        }
        else
        {
            if (!query.IsForgiving || OneEdit.Between(left, right) is not { } edit) return null;
            (kind, edit) = Named(edit, typed, lined, left, right, withZeros);
            words.Add(Slip(kind, edit, typed, lined));
            readings = Readings(typed, lined, edit);
        }
        words.AddRange(readings);
        // What looks alike can only be a letter O among the zeros that were dropped.
        if (isFolded && readings.Length == 0) words.Add(LookAlikes.Reading('O', '0'));
        if (withZeros) words.Add(lined.Length < stored.Length ? "without its leading zeros" : "without the leading zeros typed");
        return new(stored, kind, isFolded, withZeros, string.Join(", ", words));
    }

    /// <summary>The slip by its name. A letter more at the front stands at place 0, even where the next character is the same.</summary>
    private static (NumberMatchKind Kind, OneEdit Edit) Named(
        OneEdit edit, string typed, string lined, string left, string right, bool withZeros)
    {
        if (edit.Kind == EditKind.Swapped) return (NumberMatchKind.Swapped, edit);
        if (edit.Kind == EditKind.Changed) return (NumberMatchKind.ChangedCharacter, edit);
        var (shorter, longer, written) = edit.Kind == EditKind.Missing ? (left, right, lined) : (right, left, typed);
        if (char.IsLetter(written[^1]) && longer.AsSpan(..^1).SequenceEqual(shorter)) return (NumberMatchKind.SuffixLetter, edit);
        if (char.IsLetter(written[0]) && longer.AsSpan(1..).SequenceEqual(shorter)) return (NumberMatchKind.PrefixLetter, edit with { At = 0 });
        // With zeros only put in to line the numbers up, a letter behind them is in front of the number.
        if (withZeros && char.IsLetter(written[edit.At]) && !longer.AsSpan(..edit.At).ContainsAnyExcept('0'))
            return (NumberMatchKind.PrefixLetter, edit);
        return (edit.Kind == EditKind.Missing ? NumberMatchKind.MissingCharacter : NumberMatchKind.ExtraCharacter, edit);
    }

    private static string Slip(NumberMatchKind kind, OneEdit edit, string typed, string lined)
    {
        var longer = edit.Kind == EditKind.Missing ? lined : typed;
        var with = edit.Kind == EditKind.Missing ? "with" : "without";
        var place = (edit.At + 1).ToString(CultureInfo.InvariantCulture);
        return kind switch
        {
            NumberMatchKind.SuffixLetter => $"{with} the letter {longer[^1]} at the end",
            NumberMatchKind.PrefixLetter => $"{with} the letter {longer[edit.At]} in front",
            NumberMatchKind.Swapped => $"{typed[edit.At]} and {typed[edit.At + 1]} swapped at place {place}",
            NumberMatchKind.MissingCharacter => $"{longer[edit.At]} missing at place {place}",
            NumberMatchKind.ExtraCharacter => $"{longer[edit.At]} too many at place {place}",
            _ => $"{typed[edit.At]} in place of {lined[edit.At]} at place {place}",
        };
    }

    /// <summary>Each pair of look-alikes that was read as one another, once, in the order they stand.</summary>
    private static string[] Readings(string typed, string lined, OneEdit? edit)
    {
        var pairs = new List<(char Typed, char Stored)>();
        int i = 0, j = 0;
        while (i < typed.Length && j < lined.Length)
        {
            if (edit is { } slip && Math.Max(i, j) == slip.At)
            {
                edit = null;
                switch (slip.Kind)
                {
                    case EditKind.Missing: j++; break;
                    case EditKind.Extra: i++; break;
                    case EditKind.Changed: i++; j++; break;
                    case EditKind.Swapped:
                        pairs.Add((typed[i], lined[j + 1]));
                        pairs.Add((typed[i + 1], lined[j]));
                        i += 2;
                        j += 2;
                        break;
                    default: throw new ArgumentOutOfRangeException(nameof(edit), slip.Kind, "No such slip.");
                }
                continue;
            }
            pairs.Add((typed[i++], lined[j++]));
        }
        return [.. pairs.Where(pair => pair.Typed != pair.Stored).Select(pair => LookAlikes.Reading(pair.Typed, pair.Stored)).Distinct()];
    }
}
