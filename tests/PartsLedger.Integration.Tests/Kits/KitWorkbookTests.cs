using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using DocumentFormat.OpenXml.Validation;
using PartsLedger.Domain.Kits;
using PartsLedger.Exchange;
using PartsLedger.Kits;

namespace PartsLedger.Integration.Tests.Kits;

public sealed class KitWorkbookTests
{
    private static readonly System.Runtime.CompilerServices.ConditionalWeakTable<SpreadsheetDocument, string[]> SharedTexts = [];

    private static readonly Lazy<byte[]> NastyBytes = new(() => Written(SampleAnswers.Nasty));

    public static TheoryData<string> Samples => ["everyday", "empty", "nasty"];

    [Theory, MemberData(nameof(Samples))]
    public void The_workbook_is_valid_for_every_office_version(string sample)
    {
        using var book = Open(Sample(sample));
        foreach (var version in (FileFormatVersions[])[FileFormatVersions.Office2007, FileFormatVersions.Office2013, FileFormatVersions.Office2019])
        {
            var errors = new OpenXmlValidator(version).Validate(book);
            Assert.Empty(errors.Select(error => $"{version}: {error.Path?.XPath}: {error.Description}"));
        }
    }

    [Theory, MemberData(nameof(Samples))]
    public void No_cell_is_a_formula_and_no_text_would_become_one(string sample)
    {
        using var book = Open(Sample(sample));
        var styles = book.WorkbookPart!.WorkbookStylesPart!.Stylesheet.CellFormats!.Elements<CellFormat>().ToList();
        Assert.True(Texts(book).Any(SheetText.LooksLikeFormula) == (sample == "nasty"));
        foreach (var part in book.WorkbookPart.WorksheetParts)
        {
            Assert.Empty(part.Worksheet.Descendants<CellFormula>());
            foreach (var cell in part.Worksheet.Descendants<Cell>().Where(cell => SheetText.LooksLikeFormula(TextOf(book, cell) ?? "")))
                Assert.True(styles[(int)cell.StyleIndex!.Value].QuotePrefix?.Value, $"{cell.CellReference} holds {TextOf(book, cell)} without its mark.");
        }
    }

    [Fact]
    public void The_sheets_are_the_bench_s_the_full_needs_and_the_order()
    {
        using var book = Open(SampleAnswers.Everyday);
        Assert.Equal(["Work sheet", "Full needs", "To order"], book.WorkbookPart!.Workbook.Sheets!.Elements<Sheet>().Select(sheet => sheet.Name!.Value));
    }

    [Fact]
    public void A_part_number_of_digits_keeps_its_zeros_as_text_and_nobody_offers_to_make_it_a_number()
    {
        using var book = Open(SampleAnswers.Everyday);
        var (cell, format) = Find(book, KitWorkbook.NeedsSheetName, "0012");
        Assert.Equal(CellValues.SharedString, cell.DataType!.Value);
        Assert.Equal("@", format);
        foreach (var part in book.WorkbookPart!.WorksheetParts)
            Assert.True(Assert.Single(part.Worksheet.Descendants<IgnoredError>()).NumberStoredAsText!.Value);
    }

    [Fact]
    public void Money_and_quantities_are_numbers_with_a_format_and_no_idle_point()
    {
        using var book = Open(SampleAnswers.Everyday);
        var order = Rows(book, KitWorkbook.OrderSheetName);
        Assert.Equal(["030-9285", "Housing and valve assembly, class P085", 1.0, 148.25, 148.25], order[1].Select(cell => cell.Value));
        Assert.Equal(["@", "General", "#,##0", "#,##0.00##", "#,##0.00##"], order[1].Select(cell => cell.Format));

        var fluid = Rows(book, KitWorkbook.NeedsSheetName).Single(row => row[2].Value is "FL-2");
        Assert.Equal((0.95, "#,##0.0##"), fluid[3]);
        var seal = Rows(book, KitWorkbook.NeedsSheetName).Single(row => row[2].Value is "030-1004");
        Assert.Equal((1.0, "#,##0"), seal[3]);
    }

    [Fact]
    public void The_order_holds_only_what_is_short_and_its_total()
    {
        var everything = SampleAnswers.Everyday with { Lines = [.. SampleAnswers.Everyday.Lines.Select(line => line with { Short = 2 })] };
        using var some = Open(SampleAnswers.Everyday);
        using var all = Open(everything);
        Assert.Equal(148.25, Total(some));
        Assert.Equal(2 * (11.40 + 148.25 + 6.0125), Total(all));

        static object? Total(SpreadsheetDocument book) =>
            Rows(book, KitWorkbook.OrderSheetName).Single(row => row[0].Value is "Total").Last().Value;
    }

    [Fact]
    public void An_order_of_nothing_says_so()
    {
        using var book = Open(SampleAnswers.Empty);
        Assert.Contains(Rows(book, KitWorkbook.OrderSheetName), row => row[0].Value is string text && text.StartsWith("Nothing is to be ordered", StringComparison.Ordinal));
    }

    [Fact]
    public void The_work_sheet_gives_cautions_before_lines_and_says_which_pump_and_class_on_top()
    {
        using var book = Open(SampleAnswers.Everyday);
        var texts = Rows(book, KitWorkbook.WorkSheetName).SelectMany(row => row.Select(cell => cell.Value).OfType<string>()).ToList();
        string[] order =
        [
            "Job number", "VS30-085-R2", "P085", "Valve", "Cautions", KitPhrases.MakerComesFirst, "▲ WARNING", "■ CAUTION", "○ NOTE", "Pull or order",
            "030-8001", "▲ NOT COVERED: the job cannot be finished with this list alone", "030-7017",
            "Goes back to stock: comes in the packs, and this job does not need it", "030-1031", "Special tools", "Checks", "Measured", "Initials",
            "3/16 in proud of the cam",
        ];
        var at = order.Select(text => texts.IndexOf(text)).ToList();
        Assert.DoesNotContain(-1, at);
        Assert.Equal(at.Order(), at);
    }

    [Fact]
    public void A_check_has_its_limits_as_numbers_and_room_to_write()
    {
        using var book = Open(SampleAnswers.Everyday);
        var dowel = Rows(book, KitWorkbook.WorkSheetName).Single(row => row.Any(cell => cell.Value is "3/16 in proud of the cam"));
        Assert.Contains(4.66, dowel.Select(cell => cell.Value));
        Assert.Contains(4.86, dowel.Select(cell => cell.Value));
        Assert.Equal([null, null], dowel[^2..].Select(cell => cell.Value));
    }

    [Theory]
    [InlineData(KitWorkbook.WorkSheetName, 4, true)]
    [InlineData(KitWorkbook.NeedsSheetName, 1, false)]
    [InlineData(KitWorkbook.OrderSheetName, 1, false)]
    public void Header_rows_stay_in_sight_and_on_every_page_one_page_wide(string name, int rows, bool landscape)
    {
        using var book = Open(SampleAnswers.Nasty);
        var (sheet, index) = SheetOf(book, name);
        var pane = sheet.Descendants<Pane>().Single();
        Assert.Equal((PaneStateValues.FrozenSplit, (double)rows), (pane.State!.Value, pane.VerticalSplit!.Value));

        var names = book.WorkbookPart!.Workbook.DefinedNames!.Elements<DefinedName>().Where(defined => defined.LocalSheetId?.Value == index).ToList();
        Assert.Equal($"'{name}'!$1:${rows}", names.Single(defined => defined.Name == "_xlnm.Print_Titles").Text);
        Assert.Single(names, defined => defined.Name == "_xlnm.Print_Area");

        var setup = sheet.Descendants<PageSetup>().Single();
        Assert.Equal((9u, landscape ? OrientationValues.Landscape : OrientationValues.Portrait), (setup.PaperSize!.Value, setup.Orientation!.Value));
        Assert.Equal((1u, 0u), (setup.FitToWidth?.Value ?? 1, setup.FitToHeight!.Value));
        Assert.True(sheet.Descendants<PageSetupProperties>().Single().FitToPage!.Value);

        var headAndFoot = sheet.Descendants<HeaderFooter>().Single();
        Assert.Contains("Variant =V&&1, pressure class -P085 && more", headAndFoot.OddHeader!.Text, StringComparison.Ordinal);
        Assert.Contains("Page &P of &N", headAndFoot.OddFooter!.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_long_reason_is_given_whole_in_rows_no_higher_than_a_spreadsheet_allows()
    {
        using var book = Open(SampleAnswers.Nasty);
        var (sheet, _) = SheetOf(book, KitWorkbook.NeedsSheetName);
        Assert.All(sheet.Descendants<Row>(), row => Assert.InRange(row.Height!.Value, 1, 409));

        var whys = Rows(book, KitWorkbook.NeedsSheetName).Select(row => row.Length > 4 ? row[4].Value as string : null).ToList();
        var first = whys.FindIndex(why => why?.StartsWith("w0 ", StringComparison.Ordinal) is true);
        var given = string.Join(' ', whys.Skip(first).TakeWhile((_, at) => at == 0 || !whys[first + at - 1]!.EndsWith("the end.", StringComparison.Ordinal)));
        Assert.Equal(SampleAnswers.Nasty.Needs[4].Why, given.ReplaceLineEndings(" "));
    }

    [Fact]
    public void What_a_text_says_survives_and_only_what_no_file_can_hold_is_replaced()
    {
        using var book = Open(SampleAnswers.Nasty);
        var texts = Rows(book, KitWorkbook.NeedsSheetName).SelectMany(row => row.Select(cell => cell.Value).OfType<string>()).ToHashSet(StringComparer.Ordinal);
        foreach (var expected in (string[])
            ["=1+1", "'quoted", "a b c d", "😀 seal 🛠", "\ufffd half", "\ufffd end", "<b>&amp;</b>", "line\nbreak", "007", "1E5", "2026-01-02", "TRUE", " padded "])
            Assert.Contains(expected, texts);
    }

    private static byte[] Written(KitAnswer answer)
    {
        using var stream = new MemoryStream();
        KitWorkbook.Write(answer, stream);
        return stream.ToArray();
    }

    private static KitAnswer Sample(string name) => name switch
    {
        "everyday" => SampleAnswers.Everyday,
        "empty" => SampleAnswers.Empty,
        _ => SampleAnswers.Nasty,
    };

    private static SpreadsheetDocument Open(KitAnswer answer)
    {
        var bytes = ReferenceEquals(answer, SampleAnswers.Nasty) ? NastyBytes.Value : Written(answer);
        return SpreadsheetDocument.Open(new MemoryStream(bytes), isEditable: false);
    }

    private static (Worksheet Sheet, uint Index) SheetOf(SpreadsheetDocument book, string name)
    {
        var sheets = book.WorkbookPart!.Workbook.Sheets!.Elements<Sheet>().ToList();
        var at = sheets.FindIndex(sheet => sheet.Name == name);
        return (((WorksheetPart)book.WorkbookPart.GetPartById(sheets[at].Id!)).Worksheet, (uint)at);
    }

    /// <summary>Each row's cells, from the first column to the last that is there: text, number or nothing, with its number format.</summary>
    private static List<(object? Value, string Format)[]> Rows(SpreadsheetDocument book, string name) =>
        [.. SheetOf(book, name).Sheet.Descendants<Row>().Select(row => row.Elements<Cell>().Select(cell => (ValueOf(book, cell), FormatOf(book, cell))).ToArray())];

    private static IEnumerable<string> Texts(SpreadsheetDocument book) =>
        book.WorkbookPart!.WorksheetParts.SelectMany(part => part.Worksheet.Descendants<Cell>()).Select(cell => TextOf(book, cell)).OfType<string>();

    private static (Cell Cell, string Format) Find(SpreadsheetDocument book, string name, string text)
    {
        var cell = SheetOf(book, name).Sheet.Descendants<Cell>().Single(cell => TextOf(book, cell) == text);
        return (cell, FormatOf(book, cell));
    }

    private static object? ValueOf(SpreadsheetDocument book, Cell cell) => TextOf(book, cell)
        ?? (cell.CellValue is { } value ? double.Parse(value.Text, System.Globalization.CultureInfo.InvariantCulture) : (object?)null);

    private static string? TextOf(SpreadsheetDocument book, Cell cell)
    {
        if (cell.CellValue is null && cell.InlineString is null) return null;
        if (cell.DataType?.Value != CellValues.SharedString) return cell.DataType?.Value == CellValues.InlineString ? cell.InnerText : null;
        return SharedTexts.GetValue(book, opened => [.. opened.WorkbookPart!.SharedStringTablePart!.SharedStringTable.Elements<SharedStringItem>()
            .Select(item => item.InnerText)])[int.Parse(cell.CellValue!.Text)];
    }

    private static string FormatOf(SpreadsheetDocument book, Cell cell)
    {
        var styles = book.WorkbookPart!.WorkbookStylesPart!.Stylesheet;
        var id = styles.CellFormats!.Elements<CellFormat>().ElementAt((int)(cell.StyleIndex?.Value ?? 0)).NumberFormatId?.Value ?? 0;
        return id switch
        {
            0 => "General",
            3 => "#,##0",
            49 => "@",
            _ => styles.NumberingFormats!.Elements<NumberingFormat>().Single(format => format.NumberFormatId! == id).FormatCode!.Value!,
        };
    }
}
