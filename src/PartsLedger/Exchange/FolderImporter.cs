using Microsoft.EntityFrameworkCore;
using PartsLedger.Access;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange.Reading;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Exchange;

/// <summary>
/// Imports a folder: every file it has of a known kind, in the order in which the kinds depend on one another, each in a database
/// transaction of its own. Good rows are taken, bad ones go to the rejects folder before the good ones are committed, so that a stop at
/// any moment loses nothing. Importing the same folder again changes nothing.
/// </summary>
public sealed class FolderImporter(IServiceScopeFactory scopes, IDatabase database, Rates rates, TimeProvider clock)
{
    /// <summary>Runs of one file before a lost race counts as an error.</summary>
    private const int MaxRuns = 8;

    /// <returns>What became of every file; a refusal when the call itself is of no use and nothing was looked at.</returns>
    public async Task<Outcome<ImportReport>> Import(string folder, ImportOptions options, Caller caller, CancellationToken cancellation)
    {
        if (Permission.WhyNot(typeof(ImportOptions), caller) is { } notAllowed) return notAllowed;
        if (rates.WhyNotNow(typeof(ImportOptions), caller) is { } tooMany) return tooMany;
        var looked = ImportFolder.Look(folder);
        if (!looked.Succeeded) return looked.Refusal;
        var rejects = options.DryRun && options.RejectsFolder is null ? null
            : new RejectsFolder(options.RejectsFolder ?? Path.Combine(folder, "rejects"));
        if (rejects?.Check(folder, looked.Result.Entries.Select(entry => entry.Kind)) is { } refusal) return refusal;

        var kinds = options.DryRun
            ? await Rehearse(looked.Result.Entries, rejects, caller, cancellation)
            : await TakeAll(looked.Result.Entries, rejects, caller, cancellation);
        return new ImportReport(folder, options.DryRun, kinds, looked.Result.Ignored,
            kinds.Any(kind => kind.Rejects.Count > 0) ? rejects?.Path : null);
    }

    private async Task<IReadOnlyList<KindReport>> TakeAll(
        IReadOnlyList<ImportFolder.Entry> entries, RejectsFolder? rejects, Caller caller, CancellationToken cancellation)
    {
        var reports = new List<KindReport>();
        var rejectedNames = new RejectedNames();
        foreach (var entry in entries)
            reports.Add(await InTurn(async services =>
            {
                var db = services.GetRequiredService<LedgerContext>();
                await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
                var report = await Take(entry, services, rejects, rejectedNames, caller, cancellation);
                if (report.Unusable is null) await transaction.CommitAsync(cancellation);
                return report;
            }, cancellation));
        return reports;
    }

    /// <summary>All files in one transaction that is rolled back: later files see what the earlier ones would have brought.</summary>
    private Task<IReadOnlyList<KindReport>> Rehearse(
        IReadOnlyList<ImportFolder.Entry> entries, RejectsFolder? rejects, Caller caller, CancellationToken cancellation) =>
        InTurn<IReadOnlyList<KindReport>>(async services =>
        {
            var db = services.GetRequiredService<LedgerContext>();
            await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
            var reports = new List<KindReport>();
            var rejectedNames = new RejectedNames();
            foreach (var entry in entries) reports.Add(await Take(entry, services, rejects, rejectedNames, caller, cancellation));
            await transaction.RollbackAsync(cancellation);
            return reports;
        }, cancellation);

    private async Task<KindReport> Take(
        ImportFolder.Entry entry, IServiceProvider services, RejectsFolder? rejects, RejectedNames rejectedNames, Caller caller,
        CancellationToken cancellation)
    {
        if (entry.Path is null) return KindReport.OfUnusable(entry.Kind, entry.FileName, entry.Refusal!);
        var kind = FileKinds.Make(entry.Kind);
        var opened = SourceFiles.Open(entry.Path);
        if (!opened.Succeeded) return KindReport.OfUnusable(entry.Kind, entry.FileName, opened.Refusal);
        var layout = Layout.Of(entry.FileName, opened.Result.Header, kind.Columns, kind.OneOf);
        if (!layout.Succeeded) return KindReport.OfUnusable(entry.Kind, entry.FileName, layout.Refusal);

        var db = services.GetRequiredService<LedgerContext>();
        var run = new KindRun(opened.Result, layout.Result, new ActContext(db, caller, clock.GetUtcNow()), services.GetRequiredService<Ledger>(),
            new Registers(db, rejectedNames, cancellation), rejectedNames);
        try
        {
            await kind.Take(run, cancellation);
            if (rejects?.Replace(entry.Kind, opened.Result, run.Rejects) is { } unwritable)
                return KindReport.OfUnusable(entry.Kind, entry.FileName, unwritable);
        }
        catch (Exception problem) when (SourceFiles.IsUnreadable(problem))
        {
            return KindReport.OfUnusable(entry.Kind, entry.FileName, SourceFiles.Unreadable(entry.Path, problem));
        }
        var strangers = layout.Result.NotTaken.Select(header => $"The column '{RowCells.Brief(header)}' is not taken.");
        return new KindReport(entry.Kind, entry.FileName, run.New, run.Changed, run.Unchanged, run.Changes, run.Rejects, [.. strangers, .. run.Remarks]);
    }

    /// <summary>Runs work in a scope of its own, again from the start when it loses a race to somebody who works in the shop meanwhile.</summary>
    private async Task<T> InTurn<T>(Func<IServiceProvider, Task<T>> work, CancellationToken cancellation)
    {
        for (var run = 1; ; run++)
        {
            try
            {
                await using var scope = scopes.CreateAsyncScope();
                return await work(scope.ServiceProvider);
            }
            catch (Exception lost) when (run < MaxRuns && (lost is RaceLost or DbUpdateConcurrencyException
                || database.IsLostRace(lost) || database.IsUniqueViolation(lost)))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(20 << run), cancellation);
            }
        }
    }
}
