namespace PartsLedger.Domain.Catalog;

/// <summary>
/// A part number: shown as written, the same as another when their canonical forms are the same.
/// The canonical form is upper case without spaces, dashes, dots or slashes; leading zeros are kept.
/// Equality, ordering and hashing use the canonical form, ordinally, so that no database collation decides identity.
/// Default: the empty number, which no part has.
/// </summary>
public readonly struct PartNumber : IEquatable<PartNumber>, IComparable<PartNumber>
{
    /// <summary>Longest number accepted, in characters as written.</summary>
    public const int MaxLength = 100;

    private readonly string? _text;
    private readonly string? _key;

    public PartNumber(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        _text = text.Trim();
        _key = Canonical(_text);
    }

    /// <summary>As written on the sheet or the box, trimmed.</summary>
    public string Text => _text ?? "";

    /// <summary>The canonical form, by which it is found.</summary>
    public string Key => _key ?? "";

    public bool IsEmpty => Key.Length == 0;

    /// <summary>Upper case, no white space, dashes, dots or slashes; leading zeros kept.</summary>
    public static string Canonical(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return string.Create(text.Count(Kept), text, static (span, source) =>
        {
            var at = 0;
            foreach (var character in source)
                if (Kept(character)) span[at++] = char.ToUpperInvariant(character);
        });
    }

    private static bool Kept(char character) =>
        !char.IsWhiteSpace(character) && !char.IsControl(character)
        && character is not ('-' or '.' or '/' or '\\' or '\u2010' or '\u2011' or '\u2012' or '\u2013' or '\u2014' or '\u2212' or '\u00ad'
            or '\u200b' or '\u200c' or '\u200d' or '\ufeff');

    public bool Equals(PartNumber other) => string.Equals(Key, other.Key, StringComparison.Ordinal);
    public override bool Equals(object? obj) => obj is PartNumber other && Equals(other);
    public override int GetHashCode() => StringComparer.Ordinal.GetHashCode(Key);
    public int CompareTo(PartNumber other) => string.CompareOrdinal(Key, other.Key);
    public override string ToString() => Text;

    public static bool operator ==(PartNumber left, PartNumber right) => left.Equals(right);
    public static bool operator !=(PartNumber left, PartNumber right) => !left.Equals(right);
    public static bool operator <(PartNumber left, PartNumber right) => left.CompareTo(right) < 0;
    public static bool operator >(PartNumber left, PartNumber right) => left.CompareTo(right) > 0;
    public static bool operator <=(PartNumber left, PartNumber right) => left.CompareTo(right) <= 0;
    public static bool operator >=(PartNumber left, PartNumber right) => left.CompareTo(right) >= 0;
}
