using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange;

/// <summary>What is in a folder: at most one usable file of each kind, in dependency order, and what is left aside.</summary>
public sealed class ImportFolder
{
    private ImportFolder() { }

    public IReadOnlyList<Entry> Entries { get; private init; } = [];

    public IReadOnlyList<string> Ignored { get; private init; } = [];

    /// <summary>A kind that the folder has a file of.</summary>
    /// <param name="Path">The one file, or null.</param>
    /// <param name="Refusal">Why there is not the one file.</param>
    public sealed record Entry(string Kind, string FileName, string? Path, Refusal? Refusal);

    public static Outcome<ImportFolder> Look(string folder)
    {
        if (File.Exists(folder))
            return new Refusal("NOT_A_FOLDER", $"{folder} is a file; the import reads a folder.", "Name the folder that holds the files.");
        if (!Directory.Exists(folder)) return new Refusal("FOLDER_MISSING", $"There is no folder {folder}.", "Check the path.");
        List<string> ignored = [];
        var files = new Dictionary<string, List<string>>(StringComparer.Ordinal);
        try
        {
            foreach (var path in Directory.GetFiles(folder).Order(StringComparer.Ordinal))
            {
                var name = Path.GetFileName(path);

                // Hidden files and the lock files of open workbooks are nobody's data.
                if (name.StartsWith('.') || name.StartsWith("~$", StringComparison.Ordinal)) continue;
                if (!SourceFiles.IsKnownExtension(path)) ignored.Add(name);
                else if (FileKinds.NameOf(name) is { } kind) (files.TryGetValue(kind, out var some) ? some : files[kind] = []).Add(path);
                else ignored.Add(name);
            }
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return new Refusal("FOLDER_UNREADABLE", $"The folder {folder} cannot be read.", "Check that you may read it.");
        }
        if (files.Count == 0)
            return new Refusal("NOTHING_TO_IMPORT", $"The folder {folder} holds no file that the import takes.",
                "Name the files as the templates are named: parts.csv, contents.csv …");
        return new ImportFolder
        {
            Ignored = ignored,
            Entries = [.. FileKinds.All.Where(kind => files.ContainsKey(kind.Name)).Select(kind => EntryOf(kind.Name, files[kind.Name]))],
        };
    }

    private static Entry EntryOf(string kind, List<string> paths)
    {
        var names = paths.Select(path => Path.GetFileName(path)).ToList();
        return paths.Count == 1 ? new Entry(kind, names[0], paths[0], null)
            : new Entry(kind, string.Join(", ", names), null, new Refusal("TWO_FILES", $"The folder has {string.Join(" and ", names)}, both of the kind {kind}.",
                "Leave the one that is meant and import again."));
    }
}
