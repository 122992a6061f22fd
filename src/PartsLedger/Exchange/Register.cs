using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange;

/// <summary>What rows of another kind may be named: parts, families, variants … by the form in which they are found.</summary>
/// <param name="what">As it stands in a sentence: <c>part</c>.</param>
/// <param name="keyOf">From what is written to the form in which it is found.</param>
/// <param name="known">By that form.</param>
/// <param name="nameOf">As people write it.</param>
/// <param name="rejected">The lines of this import that would have brought it, by the form in which it is found.</param>
public sealed class Register<T>(
    string what, Func<string, string> keyOf, IReadOnlyDictionary<string, T> known, Func<T, string> nameOf, IReadOnlyDictionary<string, string> rejected)
    where T : class
{
    // Naming the nearest compares with every name, so it is done only while that stays quick.
    private const int MostNamesCompared = 20_000;
    private const int MostTimesCompared = 100;

    private int _compared;

    public IEnumerable<T> All => known.Values;

    /// <summary>The one a cell names; refuses the cell when there is none. The cell must be filled in.</summary>
    public T? Find(RowCells cells, string column)
    {
        if (!cells.IsEmpty(column)) return FindIfGiven(cells, column);
        cells.Missing(column);
        return null;
    }

    /// <summary>The one a cell names, or null for an empty cell.</summary>
    public T? FindIfGiven(RowCells cells, string column)
    {
        if (cells.IsEmpty(column)) return null;
        var written = cells.Raw(column);
        if (TryFind(written) is { } found) return found;
        cells.Reject(column, Unknown(written));
        return null;
    }

    public T? TryFind(string written) => known.GetValueOrDefault(keyOf(written));

    public string Unknown(string written)
    {
        if (rejected.TryGetValue(keyOf(written), out var where))
            return $"There is no {what} '{RowCells.Brief(written)}': its own row was rejected ({where}). Correct that row first.";
        var nearest = known.Count is 0 or > MostNamesCompared || written.Length > 100 || ++_compared > MostTimesCompared ? []
            : Nearest.To(written, known.Values.Select(nameOf));
        return $"There is no {what} '{RowCells.Brief(written)}'" + (nearest.Count == 0 ? "." : $"; the nearest known {(nearest.Count == 1 ? "is" : "are")} {string.Join(", ", nearest)}.");
    }
}
