namespace PartsLedger.Exchange.Reading;

/// <summary>One row of a file as it was read.</summary>
/// <param name="Line">The line or sheet row where it begins, counted from 1 as editors and spreadsheets show it; no two rows share one.</param>
/// <param name="Cells">The cells as written, untrimmed. May be more or fewer than the header has.</param>
/// <param name="Damage">Why the row cannot be read as a row; null when it can.</param>
public sealed record SheetRow(int Line, IReadOnlyList<string> Cells, string? Damage = null)
{
    public bool IsBlank => Damage is null && Cells.All(string.IsNullOrWhiteSpace);
}

/// <summary>
/// A file to import. Its rows are read one after the other and can be read again from the start, so that nobody has to keep the whole
/// file in memory.
/// </summary>
public abstract class SourceFile(string path, IReadOnlyList<string> header)
{
    public string Path { get; } = path;

    /// <summary>The name as people say it: <c>parts.csv</c>.</summary>
    public string Name { get; } = System.IO.Path.GetFileName(path);

    /// <summary>The header's cells as written.</summary>
    public IReadOnlyList<string> Header { get; } = header;

    /// <summary>The rows below the header, blank ones left out.</summary>
    public IEnumerable<SheetRow> Rows() => Records().Skip(1).Where(row => !row.IsBlank).Select(Measured);

    /// <summary>All rows from the header on.</summary>
    protected abstract IEnumerable<SheetRow> Records();

    private SheetRow Measured(SheetRow row)
    {
        if (row.Damage is not null) return row;
        var width = row.Cells.Count;
        while (width > Header.Count && row.Cells[width - 1].Length == 0) width--;
        if (width == Header.Count) return width == row.Cells.Count ? row : row with { Cells = [.. row.Cells.Take(width)] };
        var cells = row.Cells.Count == 1 ? "1 cell" : $"{row.Cells.Count} cells";
        return row with { Damage = width > Header.Count
            ? $"The row has {cells} where the header has {Header.Count}; a cell that holds the separator must stand in double quotes."
            : $"The row has {cells} where the header has {Header.Count}; write the empty ones too." };
    }
}
