using System.Text;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace PartsLedger.Exchange;

/// <summary>
/// A paper on A4 written from the top: headings, lines, boxes and tables, each as high as its text, with a new page where one would not
/// fit. Every page has the same head and foot. Measures in millimetres.
/// </summary>
internal sealed class PrintedPaper : IDisposable
{
    private const double Width = 210, Height = 297, Margin = 15, FootAt = Height - 10, Least = Height - 18;
    private const double LineFactor = 1.28;

    private readonly PdfDocument _document = new();
    private readonly List<XGraphics> _pages = [];
    private readonly string _head;
    private readonly string _foot;
    private double _at;

    /// <param name="head">At the head of every page after the first.</param>
    /// <param name="foot">At the foot of every page, before the page's number.</param>
    public PrintedPaper(string title, string head, string foot)
    {
        PrintFonts.Use();
        (_head, _foot) = (head, foot);
        _document.Info.Title = title;
        Break();
    }

    private XGraphics Page => _pages[^1];

    private static double Room => Width - (2 * Margin);

    public void Gap(double millimetres = 3) => _at += millimetres;

    public void Heading(string text)
    {
        Keep(16);
        Gap(2);
        Text(text, Margin, Room, 3.9, bold: true);
        Page.DrawLine(new XPen(XColors.Black, 0.25), Margin, _at + 0.6, Width - Margin, _at + 0.6);
        Gap(2);
    }

    public void Line(string text, double size = 3.1, bool bold = false) => Text(text, Margin, Room, size, bold);

    /// <summary>Boxes side by side, each a small label above a large text; the one marked stands in black.</summary>
    public void Boxes(params IReadOnlyList<(string Label, string Text, double Share, bool Marked)> boxes)
    {
        const double High = 17;
        Keep(High);
        var left = Margin;
        foreach (var (label, text, share, marked) in boxes)
        {
            var width = Room * share;
            Page.DrawRectangle(new XPen(XColors.Black, marked ? 0.9 : 0.3), marked ? XBrushes.Black : XBrushes.White, left, _at, width,
                High);
            var ink = marked ? XBrushes.White : XBrushes.Black;
            Page.DrawString(label, PrintFonts.Of(2.5, false), ink, left + 1.8, _at + 4);
            var size = 6.4;
            while (size > 2.4 && Page.MeasureString(text, PrintFonts.Of(size, true)).Width > width - 3.6) size -= 0.2;
            Page.DrawString(text, PrintFonts.Of(size, true), ink, left + 1.8, _at + 12.6);
            left += width;
        }
        Gap(High + 2);
    }

    /// <summary>A table with its header repeated on every page; shares of the width, in sum 1.</summary>
    public void Table(IReadOnlyList<(string Header, double Share)> columns, IReadOnlyList<IReadOnlyList<string>> rows)
    {
        Keep(14);
        Row(columns, [.. columns.Select(column => column.Header)], bold: true);
        foreach (var row in rows)
        {
            if (_at + HeightOf(columns, row, false) > Least)
            {
                Break();
                Row(columns, [.. columns.Select(column => column.Header)], bold: true);
            }
            Row(columns, row, bold: false);
        }
        Gap(2);
    }

    public byte[] Finish()
    {
        for (var page = 0; page < _pages.Count; page++)
        {
            _pages[page].DrawString(_foot, PrintFonts.Of(2.3, false), XBrushes.Black, Margin, FootAt);
            var number = $"Page {page + 1} of {_pages.Count}";
            _pages[page].DrawString(number, PrintFonts.Of(2.3, false), XBrushes.Black, Width - Margin - _pages[page].MeasureString(number,
                PrintFonts.Of(2.3, false)).Width, FootAt);
        }
        Dispose();
        using var output = new MemoryStream();
        _document.Save(output);
        return output.ToArray();
    }

    public void Dispose()
    {
        foreach (var page in _pages) page.Dispose();
        if (_pages.Count > 0) _pages.RemoveRange(0, _pages.Count);
    }

    private const double CellSize = 2.7;

    private double HeightOf(IReadOnlyList<(string Header, double Share)> columns, IReadOnlyList<string> cells, bool bold) =>
        (cells.Select((cell, at) => Wrap(cell, (columns[at].Share * Room) - 2.4, CellSize, bold).Count)
            .Max() * CellSize * LineFactor) + 1.8;

    private void Row(IReadOnlyList<(string Header, double Share)> columns, IReadOnlyList<string> cells, bool bold)
    {
        var (left, high) = (Margin, HeightOf(columns, cells, bold));
        for (var at = 0; at < columns.Count; at++)
        {
            var width = columns[at].Share * Room;
            Page.DrawRectangle(new XPen(XColors.Gray, 0.2), bold ? XBrushes.Gainsboro : XBrushes.White, left, _at, width, high);
            var line = _at + CellSize + 0.4;
            foreach (var text in Wrap(cells[at], width - 2.4, CellSize, bold))
            {
                Page.DrawString(text, PrintFonts.Of(CellSize, bold), XBrushes.Black, left + 1.2, line);
                line += CellSize * LineFactor;
            }
            left += width;
        }
        _at += high;
    }

    private void Text(string text, double left, double width, double size, bool bold)
    {
        foreach (var line in Wrap(text, width, size, bold))
        {
            Keep(size * LineFactor);
            Page.DrawString(line, PrintFonts.Of(size, bold), XBrushes.Black, left, _at + size);
            _at += size * LineFactor;
        }
    }

    private List<string> Wrap(string text, double width, double size, bool bold)
    {
        var (lines, line, font) = (new List<string>(), new StringBuilder(), PrintFonts.Of(size, bold));
        foreach (var word in SheetText.OneLine(text).Split(' '))
        {
            var whole = line.Length == 0 ? word : $"{line} {word}";
            if (Page.MeasureString(whole, font).Width <= width)
            {
                line.Clear().Append(whole);
                continue;
            }
            if (line.Length > 0) lines.Add(line.ToString());
            line.Clear();
            foreach (var letter in word)
            {
                if (line.Length > 0 && Page.MeasureString(line.ToString() + letter, font).Width > width)
                {
                    lines.Add(line.ToString());
                    line.Clear();
                }
                line.Append(letter);
            }
        }
        lines.Add(line.ToString());
        return lines;
    }

    private void Keep(double millimetres)
    {
        if (_at + millimetres > Least) Break();
    }

    private void Break()
    {
        var page = _document.AddPage();
        page.Width = XUnit.FromMillimeter(Width);
        page.Height = XUnit.FromMillimeter(Height);
        _pages.Add(XGraphics.FromPdfPage(page, XGraphicsUnit.Millimeter));
        _at = Margin;
        if (_pages.Count == 1) return;
        Text(_head, Margin, Room, 2.7, bold: true);
        Gap(2);
    }
}
