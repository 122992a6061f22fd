using ClosedXML.Excel;
using PartsLedger.Domain.Kits;
using PartsLedger.Exchange;

namespace PartsLedger.Kits;

/// <summary>
/// A kit answer as a workbook of three sheets: one to print and work from, one with the full needs, one to order from. It is written
/// for other people's spreadsheet programs: texts, numbers and formats only, no formula and nothing that could be taken for one.
/// </summary>
public static class KitWorkbook
{
    public const string WorkSheetName = "Work sheet";
    public const string NeedsSheetName = "Full needs";
    public const string OrderSheetName = "To order";

    /// <summary>Writes the .xlsx file to <paramref name="stream"/>, which stays open.</summary>
    public static void Write(KitAnswer answer, Stream stream)
    {
        ArgumentNullException.ThrowIfNull(answer);
        using var workbook = new XLWorkbook();
        workbook.Style.Font.FontName = PrintedSheet.Font;
        workbook.Style.Font.FontSize = PrintedSheet.FontPoints;
        workbook.Properties.Title = SheetText.OneLine($"Kit for {answer.Variant}");
        workbook.Properties.Author = "PartsLedger";

        KitWorkSheet.Add(workbook, answer);
        KitNeedsSheet.Add(workbook, answer);
        KitOrderSheet.Add(workbook, answer);
        OfficeFile.Save(workbook, stream);
    }

    /// <summary>What stands at the head of every page, so that a loose page still says which pump it belongs to.</summary>
    internal static string PumpLine(KitAnswer answer) => $"Variant {answer.Variant}, pressure class {answer.PressureClass}, {KitPhrases.Of(answer.Scope)}";
}
