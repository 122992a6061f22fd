using System.Text;
using ClosedXML.Excel;

namespace PartsLedger.Exchange;

/// <summary>
/// A sheet written row by row from the top, made to be printed on A4, one page wide. It gives each row the height its text needs, keeps
/// account of the page, and breaks the page where a row would not fit, so that no row is cut and a table's header stands on each page.
/// </summary>
public sealed class PrintedSheet
{
    /// <summary>The font everything is laid out in; where it is missing, fonts made to its measure stand in.</summary>
    public const string Font = "Arial";

    /// <summary>Size of the default font, and of ordinary text, in points.</summary>
    public const double FontPoints = 10;

    /// <summary>
    /// Lines of text in one row at most. A longer text goes on in the next row: a spreadsheet's rows end at 409 points, and a row that
    /// fills a page leaves a gap above it.
    /// </summary>
    public const int MaxLinesPerRow = 20;

    private const double PagePointsShort = 595.3;
    private const double PagePointsLong = 841.9;
    private const double MarginInches = 0.4;
    private const double MarginInchesForHeaderAndFooter = 0.65;

    private readonly IXLWorksheet _sheet;
    private readonly double[] _widths;
    private readonly double _page;
    private double _repeated;
    private double _used;

    /// <param name="workbook">Where the sheet is added, last.</param>
    /// <param name="name">The sheet's name: 31 characters at most, none of <c>:\/?*[]</c>.</param>
    /// <param name="landscape">Whether the page lies on its long side.</param>
    /// <param name="widths">Width of each column in units (see <see cref="PrintedText.PointsPerUnit"/>).</param>
    public PrintedSheet(IXLWorkbook workbook, string name, bool landscape, params double[] widths)
    {
        ArgumentNullException.ThrowIfNull(workbook);
        _sheet = workbook.AddWorksheet(name);
        _widths = widths;
        for (var column = 0; column < widths.Length; column++) _sheet.Column(column + 1).Width = widths[column];

        var setup = _sheet.PageSetup;
        setup.PaperSize = XLPaperSize.A4Paper;
        setup.PageOrientation = landscape ? XLPageOrientation.Landscape : XLPageOrientation.Portrait;
        setup.PagesWide = 1;
        setup.PagesTall = 0;
        setup.CenterHorizontally = true;
        setup.Margins.SetLeft(MarginInches).SetRight(MarginInches).SetTop(MarginInchesForHeaderAndFooter)
            .SetBottom(MarginInchesForHeaderAndFooter).SetHeader(0.3).SetFooter(0.3);
        _sheet.ShowGridLines = false;

        // Programs differ by a little in how high a row comes out: the account is kept on the safe side.
        _page = ((landscape ? PagePointsShort : PagePointsLong) - (2 * MarginInchesForHeaderAndFooter * 72)) * 0.98;
    }

    /// <summary>The last row written; 0 before the first.</summary>
    public int LastRow { get; private set; }

    /// <summary>Texts at the head and foot of every page, with the page's number and the number of pages.</summary>
    public void HeadAndFoot(string left, string right, string foot)
    {
        var setup = _sheet.PageSetup;
        setup.Header.Left.AddText(HeaderText(left));
        setup.Header.Right.AddText(HeaderText(right));
        setup.Footer.Left.AddText(HeaderText(foot));
        setup.Footer.Right.AddText("Page ");
        setup.Footer.Right.AddText(XLHFPredefinedText.PageNumber);
        setup.Footer.Right.AddText(" of ");
        setup.Footer.Right.AddText(XLHFPredefinedText.NumberOfPages);
    }

    /// <summary>The rows written so far stay in sight when scrolling and are printed at the top of every page.</summary>
    public void RepeatRowsSoFar()
    {
        _sheet.SheetView.FreezeRows(LastRow);
        _sheet.PageSetup.SetRowsToRepeatAtTop(1, LastRow);
        _repeated = _used;
    }

    /// <summary>An empty strip between two sections; none at the top of a page.</summary>
    public void Gap(double points = 7)
    {
        if (_used + points > _page || _used <= _repeated) return;
        NextRow(points);
    }

    /// <summary>Ends the page unless this many points are left on it, or even a fresh page has no more room.</summary>
    public void Keep(double points)
    {
        if (_used + points > _page && _used > _repeated && points <= _page - _repeated) Break();
    }

    /// <summary>A table: its title and header stay with its first row and are repeated where it goes on on another page.</summary>
    /// <param name="title">Cells of the title row, or none.</param>
    /// <param name="whole">Keep all of it on one page where it can.</param>
    public void Table(IReadOnlyList<SheetCell>? title, IReadOnlyList<SheetCell>? header, IReadOnlyList<IReadOnlyList<SheetCell>> rows,
        double leastHeight = 0, bool whole = false)
    {
        ArgumentNullException.ThrowIfNull(rows);
        var headHeight = (title is null ? 0 : HeightOf(title)) + (header is null ? 0 : HeightOf(header));
        Keep(headHeight + (whole ? rows.Sum(row => Math.Max(leastHeight, HeightOf(row))) : rows.Take(1).Sum(row => Math.Max(leastHeight, HeightOf(row)))));
        if (title is not null) Row(title);
        if (header is not null) Row(header);
        foreach (var row in rows)
        {
            if (_used + Math.Max(leastHeight, HeightOf(row)) > _page && _used > _repeated + headHeight)
            {
                Break();
                if (header is not null) Row(header);
            }
            Row(row, leastHeight);
        }
    }

    /// <summary>One row, as high as its highest text; in several rows when a text is longer than a row may be.</summary>
    public void Row(IReadOnlyList<SheetCell> cells, double leastHeight = 0)
    {
        ArgumentNullException.ThrowIfNull(cells);
        var laidOut = cells.Select(cell => (Cell: cell, Lines: Lines(cell))).ToList();
        var pieces = Math.Max(1, laidOut.Max(some => (some.Lines.Count + MaxLinesPerRow - 1) / MaxLinesPerRow));
        for (var piece = 0; piece < pieces; piece++)
        {
            var before = piece * MaxLinesPerRow;
            var height = laidOut.Max(some => HeightOf(Math.Clamp(some.Lines.Count - before, 0, MaxLinesPerRow), some.Cell.Look));
            NextRow(Math.Max(piece == 0 ? leastHeight : 0, height));
            foreach (var (cell, lines) in laidOut) Write(cell, piece, lines);
        }
    }

    /// <summary>A heavy frame around the rows that <paramref name="write"/> writes, so that they are seen as one thing.</summary>
    public void Framed(Action write)
    {
        ArgumentNullException.ThrowIfNull(write);
        var before = LastRow;
        write();
        if (LastRow > before)
            _sheet.Range(before + 1, 1, LastRow, _widths.Length).Style.Border.SetOutsideBorder(XLBorderStyleValues.Thick);
    }

    /// <summary>Only what was written is printed.</summary>
    public void Finish() => _sheet.PageSetup.PrintAreas.Add(1, 1, LastRow, _widths.Length);

    // An ampersand begins a code there, unless doubled; all parts together may have 255 characters.
    private static string HeaderText(string text)
    {
        const int Longest = 170;
        var escaped = new StringBuilder();
        foreach (var rune in SheetText.OneLine(text).EnumerateRunes())
        {
            if (escaped.Length > Longest) return escaped.Append('…').ToString();
            if (rune.Value == '&') escaped.Append('&');
            escaped.Append(rune);
        }
        return escaped.ToString();
    }

    private void Break()
    {
        _sheet.PageSetup.AddHorizontalPageBreak(LastRow);
        _used = _repeated;
    }

    private void NextRow(double points)
    {
        if (_used + points > _page && _used > _repeated) Break();
        LastRow++;
        _used += points;
        _sheet.Row(LastRow).Height = points;
    }

    private void Write(SheetCell cell, int piece, IReadOnlyList<string> lines)
    {
        var range = _sheet.Range(LastRow, cell.From, LastRow, cell.To);
        if (cell.To > cell.From) range.Merge();
        Dress(range.Style, cell);
        var target = _sheet.Cell(LastRow, cell.From);
        if (cell.Number is { } number)
        {
            if (piece == 0) target.SetValue((double)number);
            return;
        }
        var text = lines.Count <= MaxLinesPerRow && piece == 0 ? cell.Text : string.Join('\n', lines.Skip(piece * MaxLinesPerRow).Take(MaxLinesPerRow));
        if (text.Length == 0) return;
        target.SetValue(text);
        if (SheetText.LooksLikeFormula(text)) target.Style.IncludeQuotePrefix = true;
    }

    private static void Dress(IXLStyle style, SheetCell cell)
    {
        var look = cell.Look;
        style.Font.FontSize = look.Points;
        style.Font.Bold = look.Bold;
        style.Font.Italic = look.Italic;
        if (look.Ink is { } ink) style.Font.FontColor = XLColor.FromHtml("#" + ink);
        if (look.Fill is { } fill) style.Fill.BackgroundColor = XLColor.FromHtml("#" + fill);
        if (look.Format is { } format) style.NumberFormat.Format = format;
        style.Alignment.Vertical = look.AtTop ? XLAlignmentVerticalValues.Top : XLAlignmentVerticalValues.Center;
        style.Alignment.Horizontal = look.Centred ? XLAlignmentHorizontalValues.Center
            : cell.Number is null ? XLAlignmentHorizontalValues.Left : XLAlignmentHorizontalValues.Right;
        style.Alignment.WrapText = !look.Shrunk && cell.Number is null;
        style.Alignment.ShrinkToFit = look.Shrunk || cell.Number is not null;
        if (!look.Boxed) return;
        style.Border.OutsideBorder = XLBorderStyleValues.Thin;
        style.Border.OutsideBorderColor = XLColor.FromHtml("#7B8794");
    }

    private IReadOnlyList<string> Lines(SheetCell cell) => cell.Text.Length == 0 ? []
        : cell.Look.Shrunk ? [cell.Text]
        : PrintedText.Wrap(cell.Text, _widths[(cell.From - 1)..cell.To].Sum(), cell.Look.Points, cell.Look.Bold);

    private double HeightOf(IReadOnlyList<SheetCell> cells) =>
        cells.Max(cell => HeightOf(Math.Min(Lines(cell).Count, MaxLinesPerRow), cell.Look));

    private static double HeightOf(int lines, CellLook look) => Math.Ceiling((Math.Max(1, lines) * look.Points * 1.2) + 3);
}
