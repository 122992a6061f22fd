using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Tags are read as strictly from a file as from the scanner.</summary>
internal static class TagCells
{
    public static (string Text, string Key) Tag(this RowCells cells, string column)
    {
        if (cells.IsEmpty(column))
        {
            cells.Missing(column);
            return ("", "");
        }
        var read = Domain.Fit.Tag.Read(cells.Raw(column));
        if (read.Succeeded) return (read.Result, Domain.Fit.Tag.KeyOf(read.Result));
        cells.Reject(column, read.Refusal.ToString());
        return ("", "");
    }
}
