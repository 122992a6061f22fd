using CsvHelper;

namespace PartsLedger.Exchange.Reading;

/// <summary>
/// Comma separated UTF-8 text; a semicolon or a tab as the separator is told from the header. A quote that is opened and never closed
/// damages its own line only: reading goes on at the next one.
/// </summary>
public sealed class CsvFile : SourceFile
{
    private readonly char _separator;

    private CsvFile(string path, IReadOnlyList<string> header, char separator) : base(path, header) => _separator = separator;

    /// <returns>Null when there is no line that could be a header.</returns>
    public static CsvFile? Open(string path)
    {
        string? first;
        using (var reader = new StreamReader(path))
            do first = reader.ReadLine(); while (first is not null && first.Length == 0);
        if (first is null) return null;
        var separator = SeparatorOf(first);
        var header = Records(path, separator).FirstOrDefault();
        return header is null || header.IsBlank ? null : new CsvFile(path, header.Cells, separator);
    }

    protected override IEnumerable<SheetRow> Records() => Records(Path, _separator);

    /// <summary>The one that occurs most often in the header outside of quotes; a comma when none does.</summary>
    private static char SeparatorOf(string header)
    {
        Span<int> counts = stackalloc int[3];
        var quoted = false;
        foreach (var character in header)
        {
            if (character == '"') quoted = !quoted;
            else if (!quoted && ",;\t".IndexOf(character, StringComparison.Ordinal) is >= 0 and var at) counts[at]++;
        }
        return counts[1] > counts[0] && counts[1] >= counts[2] ? ';' : counts[2] > counts[0] ? '\t' : ',';
    }

    private static IEnumerable<SheetRow> Records(string path, char separator)
    {
        long offset = 0;
        var linesBefore = 0;
        while (true)
        {
            CsvMalformedReason? malformed = null;
            var options = new CsvReaderOptions
            {
                Separator = separator, HasHeader = false, TrackLineNumbers = true,
                OnMalformedRecord = record => malformed = record.Reason == CsvMalformedReason.StrayQuote ? null : record.Reason,
            };
            using var stream = File.OpenRead(path);
            stream.Position = offset;
            using var reader = CsvReader.Create(stream, options);
            var resume = false;
            while (!resume)
            {
                malformed = null;
                if (!reader.Read()) yield break;
                var line = linesBefore + (int)reader.LineNumber;
                var end = malformed is null ? -1 : reader.RawRecord.IndexOfAny((byte)'\n', (byte)'\r');
                if (end >= 0)
                {
                    // A quote that was never closed has swallowed the lines after it: they are read again as lines of their own.
                    var swallowing = reader.RawRecord[..end].ToArray();
                    offset += reader.ByteOffset + end + (reader.RawRecord[end..].StartsWith("\r\n"u8) ? 2 : 1);
                    yield return new SheetRow(line, Split(swallowing, separator), "A double quote is opened and never closed.");
                    linesBefore = line;
                    resume = true;
                }
                else yield return new SheetRow(line, Cells(reader), malformed switch
                {
                    null => null,
                    CsvMalformedReason.UnterminatedQuote => "A double quote is opened and never closed.",
                    _ => "Text follows a closing double quote; a double quote inside a quoted cell is written twice.",
                });
            }
        }
    }

    private static string[] Split(byte[] line, char separator)
    {
        using var reader = CsvReader.Create(line, new CsvReaderOptions { Separator = separator, HasHeader = false, AllowLineBreaksInQuotes = false });
        return reader.Read() ? Cells(reader) : [];
    }

    private static string[] Cells(CsvReader reader)
    {
        var cells = new string[reader.FieldCount];
        for (var at = 0; at < cells.Length; at++) cells[at] = reader.GetString(at);
        return cells;
    }
}
