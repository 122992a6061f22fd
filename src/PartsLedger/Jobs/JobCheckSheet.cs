using System.Globalization;
using ClosedXML.Excel;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>
/// The checks in the order of the work with what was found, or with room to write it; the pair and its shims; the runs on the bench.
/// </summary>
internal static class JobCheckSheet
{
    private static readonly CellLook Title = new() { Bold = true, Points = 12, Boxed = false };
    private static readonly CellLook Strong = CellLook.Plain with { Bold = true };
    private static readonly CellLook Small = CellLook.Plain with { Points = 9 };

    public static void Add(IXLWorkbook workbook, JobFile.Answer job, string name)
    {
        var sheet = new PrintedSheet(workbook, name, landscape: true, 6, 40, 20, 18, 16, 14, 24);
        sheet.HeadAndFoot("Checks and bench", JobWorkbook.PumpLine(job), KitPhrases.MakerComesFirst);
        sheet.Row([SheetCell.Of(1, 7, job.Pair is { } pair
            ? $"Pair {pair.Code}: {pair.Housing} with {pair.Valve}, class {pair.PressureClass}. Shims found: {pair.Found}; fitted: {pair.Fitted}."
            : "No matched pair is scanned in yet: ______________ with ______________   Shims: ______ pieces, ______ mm", Strong)]);
        sheet.Gap();
        Tools(sheet, job);
        sheet.Table([SheetCell.Of(1, 7, "Checks", Title)],
            [.. ((string[])["No.", "Check", "Expected", "Limits", "Found", "Result", "Remark"])
            .Select((text, at) => SheetCell.Of(at + 1, text, CellLook.Header))],
            [.. job.Testing.Checks.Select(check => (SheetCell[])
            [
                SheetCell.Of(1, check.Check.Sequence, CellLook.Counted), SheetCell.Of(2, check.Check.Text, CellLook.Plain),
                    SheetCell.Of(3, check.Check.Expected, Strong),
                SheetCell.Of(4, $"{KitPhrases.Limits(check.Check)} {check.Check.Unit}".Trim(), Small),
                SheetCell.Of(5, check.Last?.Given, CellLook.Plain),
                SheetCell.Of(6, check.Last is { } last ? Words.Of(last.Result) : "", Strong),
                SheetCell.Of(7, check.Last is { } done
                ? $"{done.Who}{(done.Why is null ? "" : $": {done.Why}")}{(done.Signature is { } signed ? $"; signed by {signed.Who}: {signed.Why}" : "")}" : "", Small),
            ])], leastHeight: 24);
        sheet.Gap();
        sheet.Table([SheetCell.Of(1, 7, "Bench", Title)],
            [.. ((string[])["Run", "Bench, by, when", "Relief", "Flow", "Oil, leakage", "Result", "Why"])
            .Select((text, at) => SheetCell.Of(at + 1, text, CellLook.Header))],
            [.. job.Testing.Runs.Select(run => (SheetCell[])
            [
                SheetCell.Of(1, run.Number, CellLook.Counted),
                    SheetCell.Of(2, $"{run.Bench}, {run.TestedBy}, {run.At.UtcDateTime.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture)} UTC{(run.Counts ? "" : " (before it was opened again)")}", Small),
                SheetCell.Of(3, FormattableString.Invariant($"{run.Relief.ToKilopascals():0} kPa"), CellLook.Plain),
                SheetCell.Of(4, string.Join("; ",
                run.Flows.Select(flow => FormattableString.Invariant($"{flow.LitresPerMinute:0.##} l/min at {flow.RevolutionsPerMinute:0}"))), Small),
                SheetCell.Of(5, FormattableString.Invariant($"{run.OilCelsius:0.#} °C, {run.Leakage.Microlitres / 1000m:0.###} ml/min"),
                Small),
                SheetCell.Of(6, Words.Of(run.Verdict).Replace('-', ' '), Strong), SheetCell.Of(7, run.Reasons ?? run.Noise, Small),
            ])], leastHeight: 24);
        if (job.Testing.Runs.Count == 0) sheet.Row([SheetCell.Of(1, 7,
            "Not on the bench yet. Bench: ________  Relief: ________  Flow low: ________ at ________  high: ________ at ________  Oil: ______ °C", CellLook.Plain)], leastHeight: 30);
        sheet.Finish();
    }

    private static void Tools(PrintedSheet sheet, JobFile.Answer job)
    {
        if (job.Job.List is not { } list) return;
        foreach (var caution in KitPhrases.GravestFirst(list.Cautions))
            sheet.Row([SheetCell.Of(1, 7, $"{KitPhrases.Of(caution.Severity)}  {caution.Text}", Strong)]);
        if (list.Tools.Count > 0) sheet.Row([SheetCell.Of(1, 7,
            $"Special tools: {string.Join("; ", list.Tools.Select(tool => tool.Name))}.", CellLook.Plain)]);
        sheet.Gap();
    }
}
