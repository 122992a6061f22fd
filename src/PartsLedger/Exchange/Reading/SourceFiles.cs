using System.Text;
using System.Xml;
using ExcelDataReader.Exceptions;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Exchange.Reading;

/// <summary>Opens a file to import, or says in one sentence why it is not what its name says.</summary>
public static class SourceFiles
{
    private const string SaveAsUtf8 = "Save it as \"CSV UTF-8\" (comma separated) and import again.";

    public static bool IsKnownExtension(string path) => Extension(path) is ".csv" or ".xlsx";

    public static Outcome<SourceFile> Open(string path)
    {
        try
        {
            return Extension(path) == ".xlsx" ? OpenWorkbook(path) : OpenText(path);
        }
        catch (Exception problem) when (IsUnreadable(problem))
        {
            return Unreadable(path, problem);
        }
    }

    /// <summary>The file, not the program, is at fault; may also come while the rows are read.</summary>
    public static bool IsUnreadable(Exception problem) => problem is IOException or UnauthorizedAccessException or InvalidDataException or XmlException
        or ExcelReaderException or CsvHelper.CsvFormatException or NotSupportedException;

    public static Refusal Unreadable(string path, Exception problem) => new("FILE_UNREADABLE",
        $"{Path.GetFileName(path)} cannot be read: {problem.Message.ReplaceLineEndings(" ").TrimEnd('.')}.",
        Extension(path) == ".xlsx" ? "Open it in a spreadsheet, save it again as .xlsx, and import again." : "Check that it is there and that you may read it.");

    private static string Extension(string path) => Path.GetExtension(path).ToLowerInvariant();

    private static Outcome<SourceFile> OpenWorkbook(string path)
    {
        var name = Path.GetFileName(path);
        Span<byte> start = stackalloc byte[8];
        using (var stream = File.OpenRead(path)) start = start[..stream.ReadAtLeast(start, start.Length, throwOnEndOfStream: false)];
        if (start.IsEmpty) return Empty(name);
        if (start.StartsWith((ReadOnlySpan<byte>)[0xD0, 0xCF, 0x11, 0xE0]))
            return NotWhatItSays(name, "is a workbook of the old format or locked with a password, not an .xlsx workbook", "Save it as .xlsx without a password and import again.");
        if (!start.StartsWith("PK\u0003\u0004"u8))
            return NotWhatItSays(name, "is not an .xlsx workbook", "Save it as .xlsx, or give it the ending .csv if it is comma separated text.");
        var file = XlsxFile.Open(path);
        return file is null ? NoHeader(name) : file;
    }

    private static Outcome<SourceFile> OpenText(string path)
    {
        var name = Path.GetFileName(path);
        if (Inspect(path, name) is { } refusal) return refusal;
        var file = CsvFile.Open(path);
        return file is null ? NoHeader(name) : file;
    }

    /// <summary>Reads the bytes once: whatever is not UTF-8 text would be altered silently later on.</summary>
    private static Refusal? Inspect(string path, string name)
    {
        var strict = new UTF8Encoding(false, throwOnInvalidBytes: true).GetDecoder();
        var buffer = new byte[1 << 16];
        var characters = new char[buffer.Length + 4];
        using var stream = File.OpenRead(path);
        var line = 1;
        for (var first = true; ; first = false)
        {
            var some = buffer.AsSpan(0, stream.ReadAtLeast(buffer, buffer.Length, throwOnEndOfStream: false));
            if (first)
            {
                if (some.IsEmpty) return Empty(name);
                if (some.StartsWith("PK\u0003\u0004"u8))
                    return NotWhatItSays(name, "is a workbook or another packed file, not comma separated text", "Give it the ending .xlsx if it is a workbook, or save it as \"CSV UTF-8\".");
                if (some.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || some.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
                    return NotWhatItSays(name, "is UTF-16 text, not UTF-8", SaveAsUtf8);
            }
            var nul = some.IndexOf((byte)0);
            if (nul >= 0) return NotWhatItSays(name, $"is not text: line {line + Breaks(some[..nul])} holds a zero byte", SaveAsUtf8);
            try
            {
                strict.GetChars(some, characters, flush: some.IsEmpty);
            }
            catch (DecoderFallbackException bad)
            {
                var at = Math.Clamp(bad.Index, 0, some.Length);
                return new Refusal("FILE_NOT_UTF8", $"{name} is not UTF-8 text: see line {line + Breaks(some[..at])}.", SaveAsUtf8);
            }
            if (some.IsEmpty) return null;
            line += Breaks(some);
        }
    }

    private static int Breaks(ReadOnlySpan<byte> bytes) => bytes.Count((byte)'\n');

    private static Refusal Empty(string name) => new("FILE_EMPTY", $"{name} is empty.", "Give it a header line as in the templates, or take it away.");

    private static Refusal NoHeader(string name) => new("NO_HEADER", $"{name} has no header line.", "Give it a header line as in the templates.");

    private static Refusal NotWhatItSays(string name, string what, string whatToDo) => new("FILE_NOT_WHAT_IT_SAYS", $"{name} {what}.", whatToDo);
}
