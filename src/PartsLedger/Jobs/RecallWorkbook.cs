using System.Globalization;
using ClosedXML.Excel;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>A recall as a workbook: jobs, stock, kits and tagged halves, a sheet each.</summary>
public static class RecallWorkbook
{
    /// <summary>Writes the .xlsx file to <paramref name="stream"/>, which stays open.</summary>
    public static void Write(Recall.Answer recall, Stream stream)
    {
        using var workbook = new XLWorkbook();
        workbook.Style.Font.FontName = PrintedSheet.Font;
        workbook.Style.Font.FontSize = PrintedSheet.FontPoints;
        workbook.Properties.Title = SheetText.OneLine($"Recall of {recall.What}");
        workbook.Properties.Author = "PartsLedger";
        var plain = CellLook.Plain;
        Table(workbook, recall, "Jobs", [20, 14, 24, 14, 60], ["Job", "State", "Customer's reference", "Released", "Why"],
            recall.Jobs.Select(job => (SheetCell[])
        [
            SheetCell.OfName(1, job.Job, plain with { Bold = true }), SheetCell.Of(2, job.State is { } state ? Words.Of(state)
                : "no such job", plain), SheetCell.OfName(3, job.CustomerReference, plain),
            SheetCell.Of(4, job.ReleasedAt?.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), plain),
            SheetCell.Of(5, string.Join("; ", job.Why), plain),
        ]));
        foreach (var (name, hits) in new[] { ("Stock", recall.Stock), ("Kits", recall.Kits) })
            Table(workbook, recall, name, [24, 30, 16, 16, 14], ["Part", "Lot", "Place", "Condition", "Quantity"],
                hits.Select(hit => (SheetCell[])
            [
                SheetCell.OfName(1, hit.Part, plain with { Bold = true }), SheetCell.OfName(2, hit.Lot, plain),
                    SheetCell.OfName(3, hit.Place, plain), SheetCell.Of(4, Words.Of(hit.Condition), plain),
                SheetCell.Of(5, hit.Quantity, CellLook.Counted),
            ]));
        Table(workbook, recall, "Halves", [24, 24, 36, 24], ["Tag", "Pair", "Where", "Job"], recall.Units.Select(unit => (SheetCell[])
            [SheetCell.OfName(1, unit.Tag, plain with { Bold = true }), SheetCell.OfName(2, unit.Pair, plain),
                SheetCell.Of(3, unit.Where, plain), SheetCell.OfName(4, unit.Job, plain)]));
        OfficeFile.Save(workbook, stream);
    }

    private static void Table(XLWorkbook workbook, Recall.Answer recall, string name, double[] widths, string[] headers,
        IEnumerable<SheetCell[]> rows)
    {
        var sheet = new PrintedSheet(workbook, name, landscape: true, widths);
        sheet.HeadAndFoot($"Recall: {name.ToLowerInvariant()}", $"Recall of {recall.What}", KitPhrases.MakerComesFirst);
        sheet.Row([.. headers.Select((text, at) => SheetCell.Of(at + 1, text, CellLook.Header))]);
        sheet.RepeatRowsSoFar();
        var any = false;
        foreach (var row in rows)
        {
            any = true;
            sheet.Row(row);
        }
        if (!any) sheet.Row([SheetCell.Of(1, widths.Length, "None.", CellLook.Plain)]);
        sheet.Finish();
    }
}
