using System.Globalization;
using ClosedXML.Excel;
using PartsLedger.Exchange;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>What happened to the job, its core and its pair, oldest first: a plain table for further use.</summary>
internal static class JobHistorySheet
{
    private static readonly string[] Headers = ["When, UTC", "Who", "What", "Happened to", "Details", "Why"];

    public static void Add(IXLWorkbook workbook, JobFile.Answer job, string name)
    {
        var sheet = new PrintedSheet(workbook, name, landscape: true, 18, 14, 15, 14, 54, 24);
        sheet.HeadAndFoot("History", JobWorkbook.PumpLine(job), KitPhrases.MakerComesFirst);
        sheet.Row([.. Headers.Select((text, at) => SheetCell.Of(at + 1, text, CellLook.Header))]);
        sheet.RepeatRowsSoFar();
        var small = CellLook.Plain with { Points = 9 };
        foreach (var entry in job.History)
            sheet.Row(
            [
                SheetCell.Of(1, entry.At.UtcDateTime.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture), CellLook.Plain),
                    SheetCell.Of(2, entry.Who, small),
                SheetCell.Of(3, entry.What, CellLook.Plain with { Bold = true }), SheetCell.OfName(4, entry.About, CellLook.Plain),
                SheetCell.Of(5, entry.Detail, small),
                SheetCell.Of(6, entry.Why, small),
            ]);
        sheet.Finish();
    }
}
