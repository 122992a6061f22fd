using ClosedXML.Excel;
using PartsLedger.Domain.Kits;
using PartsLedger.Exchange;

namespace PartsLedger.Kits;

/// <summary>Every position the job renews, by the number the parts list gives, one row each: a plain table for further use.</summary>
internal static class KitNeedsSheet
{
    private static readonly string[] Headers = ["Position", "Name", "Part on the list", "Quantity", "Why"];

    public static void Add(IXLWorkbook workbook, KitAnswer answer, string name = KitWorkbook.NeedsSheetName)
    {
        var sheet = new PrintedSheet(workbook, name, landscape: false, 9, 23, 18, 9, 32);
        sheet.HeadAndFoot("Full needs of the job", KitWorkbook.PumpLine(answer), KitPhrases.MakerComesFirst);
        sheet.Row([.. Headers.Select((text, at) => SheetCell.Of(at + 1, text, CellLook.Header))]);
        sheet.RepeatRowsSoFar();
        foreach (var need in answer.Needs)
            sheet.Row(
            [
                SheetCell.Of(1, need.Position, CellLook.Counted), SheetCell.Of(2, need.Name, CellLook.Plain),
                SheetCell.OfName(3, need.Part, CellLook.Plain with { Bold = true }), SheetCell.Of(4, need.Quantity, CellLook.Counted),
                SheetCell.Of(5, need.Why, CellLook.Plain with { Points = 9 }),
            ]);
        sheet.Finish();
    }
}
