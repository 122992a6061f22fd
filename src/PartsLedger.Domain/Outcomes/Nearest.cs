namespace PartsLedger.Domain.Outcomes;

/// <summary>Finds the known names nearest to a mistyped one, for messages such as "the nearest known ones are …".</summary>
public static class Nearest
{
    /// <summary>
    /// Up to <paramref name="count"/> of <paramref name="known"/> by optimal string alignment distance (insert, delete, change, swap
    /// of neighbours; all cost one), ignoring case; equal distances by ordinal order. The same list gives the same answer.
    /// </summary>
    public static IReadOnlyList<string> To(string wanted, IEnumerable<string> known, int count = 3) =>
        [.. known.Distinct(StringComparer.Ordinal)
            .OrderBy(name => Distance(wanted.ToUpperInvariant(), name.ToUpperInvariant()))
            .ThenBy(name => name, StringComparer.Ordinal)
            .Take(count)];

    private static int Distance(string left, string right)
    {
        var rows = new int[left.Length + 1, right.Length + 1];
        for (var i = 0; i <= left.Length; i++) rows[i, 0] = i;
        for (var j = 0; j <= right.Length; j++) rows[0, j] = j;
        for (var i = 1; i <= left.Length; i++)
            for (var j = 1; j <= right.Length; j++)
            {
                var change = left[i - 1] == right[j - 1] ? 0 : 1;
                var best = Math.Min(Math.Min(rows[i - 1, j] + 1, rows[i, j - 1] + 1), rows[i - 1, j - 1] + change);
                if (i > 1 && j > 1 && left[i - 1] == right[j - 2] && left[i - 2] == right[j - 1])
                    best = Math.Min(best, rows[i - 2, j - 2] + 1);
                rows[i, j] = best;
            }
        return rows[left.Length, right.Length];
    }
}
