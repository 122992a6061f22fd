using System.Globalization;
using System.Text.RegularExpressions;
using ClosedXML.Excel;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace PartsLedger.Exchange;

/// <summary>Saves a workbook, with what its library has no word for.</summary>
public static partial class OfficeFile
{
    /// <summary>Writes the workbook to <paramref name="stream"/>, which stays open.</summary>
    public static void Save(IXLWorkbook workbook, Stream stream)
    {
        ArgumentNullException.ThrowIfNull(workbook);
        ArgumentNullException.ThrowIfNull(stream);
        using var memory = new MemoryStream();
        workbook.SaveAs(memory);
        memory.Position = 0;
        using (var document = SpreadsheetDocument.Open(memory, isEditable: true))
        {
            var book = document.WorkbookPart!;
            MeasureInOurFont(book.WorkbookStylesPart!.Stylesheet);
            FixPrintTitles(book.Workbook);
            JoinSurrogates(book.SharedStringTablePart!.SharedStringTable);
            foreach (var part in book.WorksheetParts)
            {
                SortColumns(part.Worksheet);
                KeepNumbersAsText(part.Worksheet);
            }
        }
        memory.Position = 0;
        memory.CopyTo(stream);
    }

    // Column widths are counted in digits of the first font, which the library leaves at one that many machines do not have: there
    // the columns would come out wider, and the print smaller, than we laid out.
    private static void MeasureInOurFont(Stylesheet styles)
    {
        var normal = styles.Fonts!.GetFirstChild<Font>()!;
        normal.GetFirstChild<FontName>()!.Val = PrintedSheet.Font;
        normal.GetFirstChild<FontSize>()!.Val = PrintedSheet.FontPoints;
    }

    // The library writes the rows to repeat relative to a cell ('Sheet'!1:3), which not every program reads as print titles.
    private static void FixPrintTitles(Workbook workbook)
    {
        foreach (var titles in workbook.Descendants<DefinedName>().Where(name => name.Name == "_xlnm.Print_Titles"))
            titles.Text = RelativeRows().Replace(titles.Text, "!$$$1:$$$2");
    }

    // The library escapes the two halves of a character beyond the basic plane one by one, which not every program joins again.
    private static void JoinSurrogates(SharedStringTable texts)
    {
        foreach (var text in texts.Descendants<Text>().Where(text => text.Text.Contains("_xD", StringComparison.Ordinal)))
            text.Text = EscapedPair().Replace(text.Text, pair => string.Concat(Half(pair.Groups[1].ValueSpan), Half(pair.Groups[2].ValueSpan)));

        static char Half(ReadOnlySpan<char> hexadecimal) => (char)int.Parse(hexadecimal, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
    }

    // Written with the unused columns first; the format wants them ascending.
    private static void SortColumns(Worksheet sheet)
    {
        foreach (var columns in sheet.Elements<Columns>().ToList())
        {
            var ascending = columns.Elements<Column>().OrderBy(column => column.Min!.Value).ToList();
            columns.RemoveAllChildren();
            columns.Append(ascending);
        }
    }

    // A part number of digits is text on purpose: no cell gets the green corner that offers to turn it into a number.
    private static void KeepNumbersAsText(Worksheet sheet)
    {
        // The order of a sheet's elements is fixed: ignored errors follow the page breaks.
        OpenXmlElement before = sheet.GetFirstChild<ColumnBreaks>() ?? (OpenXmlElement?)sheet.GetFirstChild<RowBreaks>()
            ?? sheet.GetFirstChild<HeaderFooter>() ?? (OpenXmlElement?)sheet.GetFirstChild<PageSetup>() ?? sheet.GetFirstChild<PageMargins>()!;
        sheet.InsertAfter(new IgnoredErrors(new IgnoredError
        {
            SequenceOfReferences = new ListValue<StringValue> { InnerText = sheet.GetFirstChild<SheetDimension>()!.Reference!.Value! },
            NumberStoredAsText = true,
        }), before);
    }

    [GeneratedRegex("_x(D[89AB][0-9A-F]{2})__x(D[C-F][0-9A-F]{2})_")]
    private static partial Regex EscapedPair();

    [GeneratedRegex(@"!(\d+):(\d+)$")]
    private static partial Regex RelativeRows();
}
