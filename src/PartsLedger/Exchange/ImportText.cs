using System.Globalization;

namespace PartsLedger.Exchange;

/// <summary>What the import tells the person who started it.</summary>
public static class ImportText
{
    private const int MostRejectsNamed = 20;

    public static async Task Write(ImportReport report, TextWriter output)
    {
        await output.WriteLineAsync($"Import of {report.Folder}{(report.DryRun ? " (dry run: nothing is kept)" : "")}");
        await output.WriteLineAsync();
        var width = Math.Max(16, report.Kinds.Max(kind => kind.Kind.Length));
        await output.WriteLineAsync($"{"kind".PadRight(width)}{"new",9}{"changed",9}{"same",9}{"rejected",10}");
        foreach (var kind in report.Kinds)
            await output.WriteLineAsync(kind.Unusable is not null ? $"{kind.Kind.PadRight(width)}  nothing taken, see below"
                : string.Create(CultureInfo.InvariantCulture, $"{kind.Kind.PadRight(width)}{kind.New,9}{kind.Changed,9}{kind.Unchanged,9}{kind.Rejects.Count,10}"));
        await output.WriteLineAsync();

        foreach (var kind in report.Kinds)
        {
            if (kind.Unusable is { } unusable) await output.WriteLineAsync($"{unusable}");
            foreach (var remark in kind.Remarks) await output.WriteLineAsync($"{kind.FileName}: {remark}");
            foreach (var reject in kind.Rejects.Take(MostRejectsNamed))
                await output.WriteLineAsync($"{kind.FileName} line {reject.Line}{(reject.Columns.Length == 0 ? "" : $", column {reject.Columns}")}: {reject.Reason}");
            if (kind.Rejects.Count > MostRejectsNamed)
                await output.WriteLineAsync($"{kind.FileName}: {kind.Rejects.Count - MostRejectsNamed} more rejected rows.");
        }
        if (report.Ignored.Count > 0) await output.WriteLineAsync($"Ignored: {string.Join(", ", report.Ignored)}");
        await output.WriteLineAsync(Closing(report));
    }

    private static string Closing(ImportReport report)
    {
        var unusable = report.Kinds.Count(kind => kind.Unusable is not null);
        var taken = $"{Rows(report.Taken)} {(report.DryRun ? "would be taken" : "taken")}, {report.Rejected} rejected"
            + (unusable == 0 ? "." : $", {(unusable == 1 ? "1 file" : $"{unusable} files")} unusable.");
        return report.RejectsFolder is null ? taken : $"{taken} Correct the rejected rows in {report.RejectsFolder} and import that folder.";
    }

    private static string Rows(int count) => count == 1 ? "1 row" : string.Create(CultureInfo.InvariantCulture, $"{count} rows");
}
