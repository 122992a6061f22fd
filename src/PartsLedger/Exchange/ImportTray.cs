using System.Collections.Concurrent;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Exchange;

/// <summary>
/// Files that somebody sent by the page and has not taken yet: each sending a folder of its own, for whoever sent it, for an hour. They wait in
/// this copy of the program; behind several copies the page may have to be sent again.
/// </summary>
public sealed class ImportTray(TimeProvider clock) : IDisposable
{
    public const long MostBytes = 64 << 20;
    private const int MostFiles = 60, MostWaiting = 20;
    private static readonly TimeSpan Wait = TimeSpan.FromHours(1);

    private readonly ConcurrentDictionary<string, Sending> _waiting = new(StringComparer.Ordinal);

    /// <param name="Folder">The files, and beside them what was rejected once they were taken.</param>
    /// <param name="Report">What would become of them; once taken, what became of them.</param>
    public sealed record Sending(string Id, string Folder, string By, DateTimeOffset At, ImportReport Report);

    /// <summary>Puts files into a folder of their own.</summary>
    /// <returns>The folder; <see cref="Keep"/> or <see cref="Drop"/> follows.</returns>
    public static async Task<Outcome<string>> Unpack(IReadOnlyList<IFormFile> files, CancellationToken cancellation)
    {
        if (files.Count is 0 or > MostFiles) return new Refusal("NOTHING_TO_IMPORT", files.Count == 0 ? "No file was chosen." : $"{files.Count} files were chosen.",
            $"Choose 1 to {MostFiles} files, named as the templates are named: parts.csv, contents.xlsx …");
        var folder = Directory.CreateTempSubdirectory("partsledger-import-").FullName;
        foreach (var file in files)
        {
            // Some browsers send where the file was with its name; nothing but the name is used.
            var name = Path.GetFileName(file.FileName.Replace('\\', '/'));
            if (name.Length is 0 or > 100 || name.IndexOfAny(Path.GetInvalidFileNameChars()) >= 0) continue;
            await using var stream = File.Create(Path.Combine(folder, name));
            await file.CopyToAsync(stream, cancellation);
        }
        return folder;
    }

    public string Keep(string folder, Caller by, ImportReport report)
    {
        foreach (var old in _waiting.Values.OrderBy(one => one.At).Where((one, at) => one.At < clock.GetUtcNow() - Wait || at < _waiting.Count - MostWaiting))
            if (_waiting.TryRemove(old.Id, out var gone)) Drop(gone.Folder);
        var sending = new Sending(Guid.NewGuid().ToString("N"), folder, by.Name, clock.GetUtcNow(), report);
        _waiting[sending.Id] = sending;
        return sending.Id;
    }

    /// <summary>What became of it, in place of what would have.</summary>
    public void Taken(Sending sending, ImportReport report) => _waiting[sending.Id] = sending with { Report = report };

    /// <returns>Null where nobody of this name sent it, or it is too long ago.</returns>
    public Sending? Find(string? id, Caller by) => id is not null && _waiting.TryGetValue(id, out var sending) && sending.By == by.Name ? sending : null;

    public static void Drop(string folder)
    {
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            // The machine clears its temporary folders itself.
        }
    }

    public void Dispose()
    {
        foreach (var sending in _waiting.Values) Drop(sending.Folder);
    }
}
