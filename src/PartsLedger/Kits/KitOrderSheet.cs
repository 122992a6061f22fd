using ClosedXML.Excel;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange;

namespace PartsLedger.Kits;

/// <summary>Only what is short: what must be ordered before the job can be done, and what that costs.</summary>
internal static class KitOrderSheet
{
    private static readonly string[] Headers = ["Part", "Name", "Short", "Unit cost", "Cost"];

    public static void Add(IXLWorkbook workbook, KitAnswer answer, string name = KitWorkbook.OrderSheetName)
    {
        var sheet = new PrintedSheet(workbook, name, landscape: false, 22, 34, 9, 12, 14);
        sheet.HeadAndFoot("To order", KitWorkbook.PumpLine(answer), KitPhrases.MakerComesFirst);
        sheet.Row([.. Headers.Select((text, at) => SheetCell.Of(at + 1, text, CellLook.Header))]);
        sheet.RepeatRowsSoFar();

        var lines = answer.Lines.Where(line => line.Short > 0).ToList();
        var total = Money.Zero;
        foreach (var line in lines)
        {
            var cost = line.UnitCost * line.Short;
            total += cost;
            sheet.Row(
            [
                SheetCell.OfName(1, line.Part, CellLook.Plain with { Bold = true }), SheetCell.Of(2, line.Name, CellLook.Plain),
                SheetCell.Of(3, line.Short, CellLook.Counted), SheetCell.Of(4, line.UnitCost, CellLook.Plain), SheetCell.Of(5, cost, CellLook.Plain),
            ]);
        }

        var strong = CellLook.Plain with { Bold = true };
        if (lines.Count == 0) sheet.Row([SheetCell.Of(1, 5, "Nothing is to be ordered: everything on the list is on the shelf.", CellLook.Plain)]);
        sheet.Row([SheetCell.Of(1, 2, "Total", strong), SheetCell.Of(3, lines.Sum(line => line.Short), strong with { Centred = true }),
            SheetCell.Empty(4, 4, strong), SheetCell.Of(5, total, strong)]);
        var remark = CellLook.Plain with { Boxed = false, Points = 9 };
        if (lines.Any(line => line.UnitCost == Money.Zero)) sheet.Row([SheetCell.Of(1, 5, KitPhrases.NoCostKnown, remark)]);
        if (!answer.Complete)
            sheet.Row([SheetCell.Of(1, 5, "Not everything the job needs can be ordered: see the box NOT COVERED on the work sheet.", remark with { Bold = true })]);
        sheet.Finish();
    }
}
