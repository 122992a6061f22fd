using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange.Reading;
using PartsLedger.Hosting;

namespace PartsLedger.Exchange;

/// <param name="DryRun">Find out what would happen; nothing is kept and no rejects are written unless <paramref name="RejectsFolder"/> is given.</param>
/// <param name="RejectsFolder">Where rejected rows go; null for the folder <c>rejects</c> beside the files.</param>
[Allowed(Role.Administrator)]
[Heavy]
public sealed record ImportOptions(bool DryRun = false, string? RejectsFolder = null);

/// <summary>What became of one kind's file.</summary>
/// <param name="Unusable">Why nothing of the file was taken; null when its good rows were.</param>
/// <param name="Changes">What changes in which row, the first of them.</param>
/// <param name="Remarks">Worth knowing: columns that were not taken, data that will be missed later.</param>
public sealed record KindReport(
    string Kind, string FileName, int New, int Changed, int Unchanged, IReadOnlyList<Change> Changes, IReadOnlyList<Reject> Rejects,
    IReadOnlyList<string> Remarks, Refusal? Unusable = null)
{
    public int Taken => New + Changed + Unchanged;

    public static KindReport OfUnusable(string kind, string fileName, Refusal refusal) => new(kind, fileName, 0, 0, 0, [], [], [], refusal);
}

/// <summary>A row that is kept already and comes with something else in it.</summary>
/// <param name="Name">What it is called; empty for a row that only joins others.</param>
/// <param name="Differences">By column: <c>price: 1.45, now 1.60</c>.</param>
public sealed record Change(int Line, string Name, IReadOnlyList<string> Differences);

/// <summary>What became of a folder.</summary>
/// <param name="RejectsFolder">Where the rejected rows were written; null when none were.</param>
public sealed record ImportReport(
    string Folder, bool DryRun, IReadOnlyList<KindReport> Kinds, IReadOnlyList<string> Ignored, string? RejectsFolder)
{
    public int Taken => Kinds.Sum(kind => kind.Taken);

    public int Rejected => Kinds.Sum(kind => kind.Rejects.Count);

    /// <summary>0 every row taken, 3 some rejected, 2 a whole file unusable.</summary>
    public int ExitStatus => Kinds.Any(kind => kind.Unusable is not null) ? 2 : Rejected > 0 ? 3 : 0;
}
