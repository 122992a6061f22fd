using CsvHelper;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange;

/// <summary>
/// Where rejected rows are written, a file per kind: line, column and reason in front, then the row exactly as it was read under its own
/// header, so that the corrected file can be imported as it is.
/// </summary>
public sealed class RejectsFolder(string path)
{
    public string Path { get; } = path;

    /// <summary>Refuses a folder where writing rejects would destroy something else.</summary>
    public Refusal? Check(string importFolder, IEnumerable<string> kinds)
    {
        if (string.Equals(Full(Path), Full(importFolder), StringComparison.OrdinalIgnoreCase))
            return new Refusal("REJECTS_IN_PLACE", "The rejects cannot be written into the folder that is imported.", "Name another folder after --rejects.");
        if (File.Exists(Path)) return new Refusal("REJECTS_FOLDER", $"{Path} is a file; rejects need a folder.", "Name another folder after --rejects.");
        var foreign = kinds.Select(FileOf).FirstOrDefault(file => File.Exists(file) && !IsOurs(file));
        return foreign is null ? null : new Refusal("REJECTS_FOLDER", $"{foreign} is there already and is no file of rejects.",
            "Name another folder after --rejects, or take the file away.");
    }

    /// <summary>Writes a kind's rejects in place of its earlier ones, or takes those away when there are none any more.</summary>
    public Refusal? Replace(string kind, SourceFile source, IReadOnlyList<Reject> rejects)
    {
        var file = FileOf(kind);
        try
        {
            if (rejects.Count == 0)
            {
                File.Delete(file);
                return null;
            }
            Directory.CreateDirectory(Path);
            using (var stream = File.Create(file + ".part")) Write(stream, source, rejects.ToDictionary(reject => reject.Line));
            File.Move(file + ".part", file, overwrite: true);
            return null;
        }
        catch (DirectoryNotFoundException) when (rejects.Count == 0)
        {
            return null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return new Refusal("REJECTS_UNWRITABLE", $"The rejects of {source.Name} cannot be written to {Path}: {problem.Message.TrimEnd('.')}.",
                "Make room or name another folder after --rejects, and import again.");
        }
    }

    private string FileOf(string kind) => System.IO.Path.Combine(Path, kind + ".csv");

    private static void Write(Stream stream, SourceFile source, Dictionary<int, Reject> rejects)
    {
        using var writer = CsvWriter.Create(stream, new CsvWriterOptions { ValidateFieldCount = false }, leaveOpen: true);
        foreach (var name in Layout.RejectColumns) writer.WriteField(name);

        // Of a file of rejects that is imported again, the earlier lines and reasons are not carried along.
        bool Kept(int at) => at >= source.Header.Count || !Layout.IsRejectColumn(source.Header[at]);
        for (var at = 0; at < source.Header.Count; at++)
            if (Kept(at)) writer.WriteField(source.Header[at]);
        writer.EndRecord();
        foreach (var row in source.Rows())
        {
            if (!rejects.TryGetValue(row.Line, out var reject)) continue;
            writer.WriteField(row.Line);
            writer.WriteField(reject.Columns);
            writer.WriteField(reject.Reason);
            for (var at = 0; at < row.Cells.Count; at++)
                if (Kept(at)) writer.WriteField(row.Cells[at]);
            writer.EndRecord();
        }
        writer.Flush();
    }

    /// <summary>A file that begins as those written here do.</summary>
    private static bool IsOurs(string file)
    {
        using var reader = new StreamReader(file);
        return (reader.ReadLine() ?? "").StartsWith(string.Join(',', Layout.RejectColumns), StringComparison.OrdinalIgnoreCase);
    }

    private static string Full(string path) => System.IO.Path.TrimEndingDirectorySeparator(System.IO.Path.GetFullPath(path));
}
