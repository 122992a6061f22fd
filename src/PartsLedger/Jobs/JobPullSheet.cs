using System.Globalization;
using ClosedXML.Excel;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>One walk past the bins with a box to tick, what is nowhere to be had, and what the job has already.</summary>
internal static class JobPullSheet
{
    private static readonly CellLook Title = new() { Bold = true, Points = 12, Boxed = false };
    private static readonly CellLook Strong = CellLook.Plain with { Bold = true };

    public static void Add(IXLWorkbook workbook, JobFile.Answer job, string name)
    {
        var sheet = new PrintedSheet(workbook, name, landscape: false, 6, 13, 21, 9, 20, 12, 12);
        sheet.HeadAndFoot("Pull list", JobWorkbook.PumpLine(job), KitPhrases.MakerComesFirst);
        sheet.Table([SheetCell.Of(1, 7, $"Pull list of job {job.Job.Summary.Number}, in walking order", Title)],
            [Head(1, "Done"), Head(2, "Place"), Head(3, "Part"), Head(4, "Quantity"), Head(5, "Lot"), Head(6, "Use by"),
            Head(7, "Reserved")],
            [.. job.ToPull.Stops.Select(stop => (SheetCell[])
            [
                SheetCell.Of(1, "□", new CellLook { Centred = true, Points = 12 }), SheetCell.OfName(2, stop.Place, Strong),
                    SheetCell.OfName(3, stop.What, Strong),
                SheetCell.Of(4, stop.Quantity, CellLook.Counted), SheetCell.OfName(5, stop.Lot, CellLook.Plain),
                SheetCell.Of(6, stop.ExpiresOn?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), CellLook.Plain),
                SheetCell.Of(7, stop.Reserved ? "reserved" : "free", CellLook.Plain),
            ])]);
        if (job.ToPull.Stops.Count == 0) sheet.Row([SheetCell.Of(1, 7, "Nothing is left to pull.", CellLook.Plain)]);
        sheet.Gap();
        if (job.ToPull.Missing.Count > 0)
            sheet.Table([SheetCell.Of(1, 7, "▲ Nowhere to be had: order, or say what takes its place", Title)],
                [Head(1, ""), SheetCell.Of(2, 3, "Part", CellLook.Header), Head(4, "Quantity")],
                [.. job.ToPull.Missing.Select(missing => (SheetCell[])[SheetCell.Empty(1, 1, CellLook.Plain),
                SheetCell.Of(2, 3, missing.Part, Strong), SheetCell.Of(4, missing.Quantity, CellLook.Counted)])]);
        sheet.Gap();
        sheet.Table([SheetCell.Of(1, 7, "In hand", Title)], [Head(1, ""), SheetCell.Of(2, 3, "Part", CellLook.Header), Head(4, "Quantity"),
            SheetCell.Of(5, 7, "Lot", CellLook.Header)],
            [.. job.Job.InHand.Where(pieces => pieces.Quantity > Quantity.Zero).Select(pieces => (SheetCell[])
                [SheetCell.Empty(1, 1, CellLook.Plain), SheetCell.Of(2, 3, pieces.Part, Strong),
                    SheetCell.Of(4, pieces.Quantity, CellLook.Counted), SheetCell.Of(5, 7, pieces.Lot, CellLook.Plain)])]);
        foreach (var line in job.Shorts)
            sheet.Row([SheetCell.Of(1, 7,
                $"{line.Quantity} of {line.Part} {(line.Substitute is null ? "stay short" : $"replaced by {line.SubstituteQuantity} of {line.Substitute}")}: {line.Why}", CellLook.Plain)]);
        foreach (var line in job.Surplus)
            sheet.Row([SheetCell.Of(1, 7,
                $"{line.Quantity} of {line.Part} out of {line.Pack}: {(line.Lot is null ? "kept with the kit" : $"back in stock, lot {line.Lot}")}", CellLook.Plain)]);
        sheet.Finish();
    }

    private static SheetCell Head(int column, string text) => SheetCell.Of(column, text, CellLook.Header);
}
