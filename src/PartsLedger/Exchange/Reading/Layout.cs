using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Exchange.Reading;

/// <summary>
/// Where a file has the columns of its kind. Header cells are matched without case, spaces, dashes or underscores; a measure's ending is
/// its unit, and a measure without one must say the unit in each cell.
/// </summary>
public sealed class Layout
{
    /// <summary>What the importer writes in front of a rejected row; not read again.</summary>
    public static readonly IReadOnlyList<string> RejectColumns = ["line", "column", "reason"];

    private readonly Dictionary<string, (int Index, string Header, MeasureUnit? Unit)> _found = new(StringComparer.Ordinal);

    private Layout() { }

    /// <summary>Header cells that no column of the kind has, as written.</summary>
    public IReadOnlyList<string> NotTaken { get; private set; } = [];

    /// <summary>The cell of a column in a row, or null when the file does not have the column.</summary>
    public int? IndexOf(string column) => _found.TryGetValue(column, out var place) ? place.Index : null;

    /// <summary>The column as the file's own header writes it.</summary>
    public string HeaderOf(string column) => _found.TryGetValue(column, out var place) ? place.Header : column;

    /// <summary>The unit that the header says; null when it says none.</summary>
    public MeasureUnit? UnitOf(string column) => _found.TryGetValue(column, out var place) ? place.Unit : null;

    public static bool IsRejectColumn(string header) => RejectColumns.Contains(Plain(header), StringComparer.Ordinal);

    /// <summary>Lower case without spaces, dashes and underscores.</summary>
    public static string Plain(string header) => new([.. header.Where(character =>
        !char.IsWhiteSpace(character) && character is not ('-' or '_' or '\ufeff')).Select(char.ToLowerInvariant)]);

    /// <param name="oneOf">Columns of which the file must have at least one.</param>
    public static Outcome<Layout> Of(string file, IReadOnlyList<string> header, IReadOnlyList<Column> columns, IReadOnlyList<string> oneOf)
    {
        var layout = new Layout();
        var names = new Dictionary<string, (Column Column, MeasureUnit? Unit)>(StringComparer.Ordinal);
        foreach (var column in columns)
        {
            names.Add(Plain(column.Name), (column, null));
            foreach (var unit in column.Units) names.Add(Plain(column.Name) + unit.Suffix, (column, unit));
        }
        var strangers = new List<string>();
        for (var at = 0; at < header.Count; at++)
        {
            var written = header[at].Trim();
            if (written.Length == 0 || IsRejectColumn(written)) continue;
            if (!names.TryGetValue(Plain(written), out var match)) strangers.Add(written);
            else if (!layout._found.TryAdd(match.Column.Name, (at, written, match.Unit)))
                return new Refusal("COLUMN_TWICE", $"{file} has the column {match.Column.TemplateName} twice: '{layout.HeaderOf(match.Column.Name)}' and '{written}'.",
                    "Leave one of the two and import again.");
        }
        layout.NotTaken = strangers;
        var missing = columns.Where(column => column.IsNeeded && layout.IndexOf(column.Name) is null).Select(column => column.TemplateName).ToList();
        if (missing.Count > 0)
            return new Refusal("COLUMNS_MISSING", $"{file} lacks the column{(missing.Count == 1 ? "" : "s")} {string.Join(", ", missing)}.",
                "Give it a header line as in the templates, with a cell for each.");
        if (oneOf.Count > 0 && oneOf.All(name => layout.IndexOf(name) is null))
            return new Refusal("COLUMNS_MISSING", $"{file} has none of the columns {string.Join(", ", oneOf)}.", "Give it at least one of them.");
        return layout;
    }
}
