using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Kits;

/// <summary>A kit workbook as a file: there whole or not at all, and an earlier file stays until the new one is finished.</summary>
public static class KitFile
{
    /// <summary>Why a workbook cannot be written under this path, as far as can be seen before there is one; else null.</summary>
    public static Refusal? WhyNot(string path)
    {
        if (string.IsNullOrWhiteSpace(path) || path.Contains('\0', StringComparison.Ordinal))
            return new("BAD_FILE", "No file is named.", "Name the workbook's file.");
        var full = Path.GetFullPath(path);
        if (Directory.Exists(full)) return new("BAD_FILE", $"'{path}' is a folder.", "Name a file in it.");
        return Directory.Exists(Path.GetDirectoryName(full)) ? null
            : new("FOLDER_MISSING", $"The folder of '{path}' does not exist.", "Make the folder first, or name another.");
    }

    /// <summary>Writes beside the file and moves it into place; the reason when that cannot be done.</summary>
    public static Refusal? Write(KitAnswer answer, string path) => Write(path, stream => KitWorkbook.Write(answer, stream));

    /// <summary>The same for anything that is written as one file.</summary>
    public static Refusal? Write(string path, Action<Stream> write)
    {
        if (WhyNot(path) is { } unusable) return unusable;
        var full = Path.GetFullPath(path);
        var unfinished = $"{full}.{Guid.NewGuid():N}.part";
        try
        {
            using (var stream = File.Create(unfinished)) write(stream);
            File.Move(unfinished, full, overwrite: true);
            return null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return new("FILE_NOT_WRITTEN", $"'{path}' cannot be written: {problem.Message}", "Close it where it is open, or name another file.");
        }
        finally
        {
            File.Delete(unfinished);
        }
    }
}
