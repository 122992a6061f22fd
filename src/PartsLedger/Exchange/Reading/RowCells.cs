using System.Globalization;
using PartsLedger.Domain.Catalog;

namespace PartsLedger.Exchange.Reading;

/// <summary>
/// The cells of one row, asked for by column. What is wrong is noted and reading goes on, so that a row's problems are all told at once;
/// a value read from a faulty cell is a stand-in, and the row is not taken.
/// </summary>
public sealed partial class RowCells(Layout layout)
{
    private readonly List<Problem> _problems = [];
    private readonly HashSet<string> _faulty = new(StringComparer.Ordinal);
    private SheetRow _row = new(0, []);

    public int Line => _row.Line;

    public IReadOnlyList<Problem> Problems => _problems;

    public void Start(SheetRow row)
    {
        _row = row;
        _problems.Clear();
        _faulty.Clear();
        if (row.Damage is not null) _problems.Add(new Problem("", row.Damage));
    }

    public bool IsClean(IEnumerable<string> columns) => _row.Damage is null && !columns.Any(_faulty.Contains);

    public void Reject(string column, string sentence)
    {
        _faulty.Add(column);
        _problems.Add(new Problem(layout.HeaderOf(column), sentence));
    }

    /// <summary>The cell without outer white space; empty when the file does not have the column.</summary>
    public string Raw(string column) => layout.IndexOf(column) is { } at && at < _row.Cells.Count ? _row.Cells[at].Trim() : "";

    public bool IsEmpty(string column) => Raw(column).Length == 0;

    /// <summary>A text that must be there.</summary>
    public string Text(string column, int longest, bool manyLines = false)
    {
        if (!IsEmpty(column)) return OptionalText(column, longest, manyLines) ?? "";
        Missing(column);
        return "";
    }

    /// <summary>A text, or null for an empty cell.</summary>
    public string? OptionalText(string column, int longest, bool manyLines = false)
    {
        var text = Raw(column);
        if (text.Length == 0) return null;
        if (text.Length > longest) Reject(column, $"The text has {text.Length} characters; at most {longest} can be kept.");
        if (text.Where(character => char.IsControl(character) && !(manyLines && character is ('\n' or '\r' or '\t'))).Select(character => (int?)character)
            .FirstOrDefault() is { } control)
            Reject(column, $"The text holds a control character (number {control}); take it out.");
        return text;
    }

    /// <summary>A part number that must be there and have something left in canonical form.</summary>
    public PartNumber Number(string column)
    {
        var number = new PartNumber(Text(column, PartNumber.MaxLength));
        if (number.IsEmpty && !IsEmpty(column)) Reject(column, $"'{Brief(number.Text)}' has no letter or digit, so it is no part number.");
        return number;
    }

    public bool YesNo(string column, bool ifEmpty)
    {
        switch (Raw(column).ToLowerInvariant())
        {
            case "": return ifEmpty;
            case "yes" or "y" or "true" or "1": return true;
            case "no" or "n" or "false" or "0": return false;
            default:
                Reject(column, $"'{Brief(Raw(column))}' is neither yes nor no.");
                return ifEmpty;
        }
    }

    /// <summary>One of the trade's words; an empty cell is refused.</summary>
    public T Word<T>(string column) where T : struct, Enum
    {
        if (IsEmpty(column)) Reject(column, $"The cell is empty; write one of {string.Join(", ", Words.All<T>())}.");
        return Word(column, default(T));
    }

    /// <summary>One of the trade's words, or what an empty cell means.</summary>
    public T Word<T>(string column, T ifEmpty, Func<T, bool>? allowed = null) where T : struct, Enum
    {
        if (IsEmpty(column)) return ifEmpty;
        if (Words.TryParse(Raw(column), out T word) && (allowed is null || allowed(word))) return word;
        var known = Words.All<T>().Where(one => allowed is null || allowed(Words.Parse<T>(one)));
        Reject(column, $"'{Brief(Raw(column))}' is not known here; write one of {string.Join(", ", known)}.");
        return ifEmpty;
    }

    /// <summary>One of a few plain words, in their own spelling; null for an empty cell.</summary>
    public string? OneOf(string column, IReadOnlyList<string> known)
    {
        if (IsEmpty(column)) return null;
        var word = string.Join(' ', Raw(column).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        if (known.FirstOrDefault(one => one.Equals(word, StringComparison.OrdinalIgnoreCase)) is { } found) return found;
        Reject(column, $"'{Brief(word)}' is not known here; write one of {string.Join(", ", known)}.");
        return null;
    }

    /// <summary>A whole number from <paramref name="least"/> to <paramref name="most"/>; null for an empty cell.</summary>
    public int? OptionalWhole(string column, int least, int most)
    {
        if (IsEmpty(column)) return null;
        if (!decimal.TryParse(Raw(column), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            || number != decimal.Truncate(number))
            Reject(column, $"'{Brief(Raw(column))}' is no whole number.");
        else if (number < least || number > most)
            Reject(column, $"{Brief(Raw(column))} is out of range; write a whole number from {least} to {most}.");
        else return (int)number;
        return null;
    }

    public int Whole(string column, int least, int most)
    {
        if (IsEmpty(column)) Missing(column);
        return OptionalWhole(column, least, most) ?? least;
    }

    public void Missing(string column) => Reject(column, "The cell is empty; it must be filled in.");

    /// <summary>The two ends of a range stand the wrong way round.</summary>
    public void RejectReversed(string from, string to) =>
        Reject(to, $"The range stands the wrong way round: {layout.HeaderOf(from)} {Brief(Raw(from))} comes after {layout.HeaderOf(to)} {Brief(Raw(to))}.");

    /// <summary>A cell's text in a sentence.</summary>
    public static string Brief(string text) =>
        new([.. (text.Length <= 60 ? text : text[..60] + "…").Select(character => char.IsControl(character) ? ' ' : character)]);
}
