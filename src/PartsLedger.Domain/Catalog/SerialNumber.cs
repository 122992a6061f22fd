namespace PartsLedger.Domain.Catalog;

/// <summary>
/// How serial numbers follow one another: runs of digits as numbers (<c>A2</c> before <c>A10</c>), everything else by letter without
/// regard to case; spaces and dashes do not count.
/// </summary>
public static class SerialNumber
{
    /// <summary>The letters a serial begins with, upper case: <c>VR</c> of <c>vr-10001</c>, nothing of <c>30A0001</c>.</summary>
    public static string Prefix(string serial)
    {
        var plain = Plain(serial);
        return new string([.. plain.TakeWhile(character => !char.IsAsciiDigit(character))]);
    }

    /// <summary>Only serials with the same letters in front belong to one series and can be put in order.</summary>
    public static bool AreComparable(string left, string right) => string.Equals(Prefix(left), Prefix(right), StringComparison.Ordinal);

    /// <summary>Below, at or above zero, as <paramref name="left"/> comes before, with or after <paramref name="right"/>.</summary>
    public static int Compare(string left, string right)
    {
        string a = Plain(left), b = Plain(right);
        int i = 0, j = 0;
        while (i < a.Length && j < b.Length)
        {
            int order;
            if (char.IsAsciiDigit(a[i]) && char.IsAsciiDigit(b[j]))
            {
                var (first, second) = (Run(a, ref i), Run(b, ref j));
                order = first.Length != second.Length ? first.Length.CompareTo(second.Length) : string.CompareOrdinal(first, second);
            }
            else order = a[i++].CompareTo(b[j++]);
            if (order != 0) return order;
        }
        return (a.Length - i).CompareTo(b.Length - j);
    }

    /// <summary>The digits from <paramref name="at"/> on, without leading zeros.</summary>
    private static string Run(string text, ref int at)
    {
        var start = at;
        while (at < text.Length && char.IsAsciiDigit(text[at])) at++;
        return text[start..at].TrimStart('0');
    }

    private static string Plain(string serial) =>
        new([.. serial.Where(character => !char.IsWhiteSpace(character) && character != '-').Select(char.ToUpperInvariant)]);
}
