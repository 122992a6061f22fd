using System.Globalization;
using System.Text;
using ExcelDataReader;

namespace PartsLedger.Exchange.Reading;

/// <summary>
/// A workbook's first sheet, or the one that bears the file's own name. Cells become the text a person would have typed: numbers without
/// idle zeros and with the leading ones their format shows, dates as <c>yyyy-mm-dd</c>. A cell whose formula fails is read as empty.
/// </summary>
public sealed class XlsxFile : SourceFile
{
    static XlsxFile() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    private XlsxFile(string path, IReadOnlyList<string> header) : base(path, header) { }

    /// <returns>Null when there is no row that could be a header.</returns>
    public static XlsxFile? Open(string path)
    {
        var header = Records(path).FirstOrDefault();
        if (header is null) return null;
        var width = header.Cells.Count;
        while (width > 0 && string.IsNullOrWhiteSpace(header.Cells[width - 1])) width--;
        return new XlsxFile(path, [.. header.Cells.Take(width)]);
    }

    protected override IEnumerable<SheetRow> Records() => Records(Path).Select(row => row with { Cells = Padded(row.Cells) });

    // A sheet has no ragged rows: cells that were never filled in are empty.
    private IReadOnlyList<string> Padded(IReadOnlyList<string> cells) =>
        cells.Count >= Header.Count ? cells : [.. cells, .. Enumerable.Repeat("", Header.Count - cells.Count)];

    private static IEnumerable<SheetRow> Records(string path)
    {
        using var stream = File.OpenRead(path);
        using var reader = ExcelReaderFactory.CreateOpenXmlReader(stream);
        Find(reader, System.IO.Path.GetFileNameWithoutExtension(path));
        var begun = false;
        for (var line = 1; reader.Read(); line++)
        {
            var cells = new string[reader.FieldCount];
            for (var at = 0; at < cells.Length; at++) cells[at] = Text(reader, at);
            var row = new SheetRow(line, cells);
            begun = begun || !row.IsBlank;
            if (begun) yield return row;
        }
    }

    private static void Find(IExcelDataReader reader, string name)
    {
        for (var sheet = 0; sheet < reader.ResultsCount; sheet++, reader.NextResult())
            if (string.Equals(reader.Name, name, StringComparison.OrdinalIgnoreCase)) return;
        reader.Reset();
    }

    private static string Text(IExcelDataReader reader, int at) => reader.GetValue(at) switch
    {
        null => "",
        string text => text,
        bool yes => yes ? "yes" : "no",
        DateTime date => Date(date, reader.GetNumberFormatString(at)),
        double number => Number(number, reader.GetNumberFormatString(at)),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        var other => other.ToString() ?? "",
    };

    /// <summary>Fifteen significant digits, as spreadsheets show: what lies beyond is the machine's, not the author's.</summary>
    private static string Number(double number, string? format)
    {
        if (!double.IsFinite(number) || Math.Abs(number) >= 7e27) return number.ToString("R", CultureInfo.InvariantCulture);
        var exact = (decimal)number;
        var shownZeros = format is { Length: > 1 and < 30 } && format.All(character => character == '0') && exact == decimal.Truncate(exact);
        return exact.ToString(shownZeros ? format : "0.############################", CultureInfo.InvariantCulture);
    }

    /// <summary>A cell that shows month and year only says nothing about the day.</summary>
    private static string Date(DateTime date, string? format)
    {
        var pattern = date.TimeOfDay != TimeSpan.Zero ? "yyyy-MM-dd'T'HH:mm:ss"
            : format is not null && !format.Contains('d', StringComparison.OrdinalIgnoreCase) && format.Contains('y', StringComparison.OrdinalIgnoreCase)
                ? format.Contains('m', StringComparison.OrdinalIgnoreCase) ? "yyyy-MM" : "yyyy" : "yyyy-MM-dd";
        return date.ToString(pattern, CultureInfo.InvariantCulture);
    }
}
