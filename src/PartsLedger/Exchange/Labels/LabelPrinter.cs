using PdfSharp.Drawing;
using PdfSharp.Pdf;
using ZXing;
using ZXing.Common;

namespace PartsLedger.Exchange.Labels;

/// <summary>
/// Labels as PDF, drawn as vectors so that every printer sets its own dots. Short codes as Code 128, longer ones as Data Matrix: on 50 mm a
/// bar of a long Code 128 would be narrower than a 203 dpi printer's dot can hold.
/// </summary>
public static class LabelPrinter
{
    /// <summary>Longest code drawn as Code 128.</summary>
    public const int LongestLinear = 16;

    private const double Width = 50, Height = 25;
    private const int Columns = 4, Rows = 11;

    public static byte[] Print(IReadOnlyList<Label> labels, LabelPaper paper)
    {
        ArgumentOutOfRangeException.ThrowIfZero(labels.Count);
        PrintFonts.Use();
        using var document = new PdfDocument();
        document.Info.Title = "Labels";
        if (paper == LabelPaper.Roll)
            foreach (var label in labels) Draw(AddPage(document, Width, Height), label, 0, 0);
        else
            foreach (var sheet in labels.Chunk(Columns * Rows)) DrawSheet(document, sheet);
        using var output = new MemoryStream();
        document.Save(output);
        return output.ToArray();
    }

    private static void DrawSheet(PdfDocument document, Label[] labels)
    {
        using var page = AddPage(document, 210, 297);
        for (var at = 0; at < labels.Length; at++)
            Draw(page, labels[at], (210 - Columns * Width) / 2 + at % Columns * Width, (297 - Rows * Height) / 2 + at / Columns * Height, dispose: false);
    }

    private static XGraphics AddPage(PdfDocument document, double width, double height)
    {
        var page = document.AddPage();
        page.Width = XUnit.FromMillimeter(width);
        page.Height = XUnit.FromMillimeter(height);
        return XGraphics.FromPdfPage(page, XGraphicsUnit.Millimeter);
    }

    private static void Draw(XGraphics page, Label label, double left, double top, bool dispose = true)
    {
        var isLinear = label.Code.Length <= LongestLinear;
        var textLeft = left + 2;
        var textWidth = Width - 4;
        if (isLinear) DrawSymbol(page, label.Code, BarcodeFormat.CODE_128, left + 2, top + 14, Width - 4, 8);
        else
        {
            DrawSymbol(page, label.Code, BarcodeFormat.DATA_MATRIX, left + 1.5, top + 3.5, 18, 18);
            (textLeft, textWidth) = (left + 21, Width - 22.5);
        }

        var line = top + 3.6;
        Text(page, label.Code, "bold", isLinear ? 3.4 : 2.6, textLeft, line, textWidth);
        line += 3.2;
        Text(page, label.Title, "bold", 2.4, textLeft, line, textWidth);
        foreach (var text in label.Lines.Take(isLinear ? 2 : 3))
        {
            line += 2.8;
            Text(page, text, "regular", 2.1, textLeft, line, textWidth);
        }
        if (label.Alert is { } alert)
        {
            var box = new XRect(isLinear ? left + 27 : textLeft, isLinear ? top + 1 : top + 20.6, isLinear ? 21.5 : textWidth, 3.4);
            page.DrawRectangle(XBrushes.Black, box);
            page.DrawString(alert, PrintFonts.Of(2.3, bold: true), XBrushes.White, box, XStringFormats.Center);
        }
        if (dispose) page.Dispose();
    }

    private static void Text(XGraphics page, string text, string weight, double size, double left, double baseline, double width)
    {
        var font = PrintFonts.Of(size, weight == "bold");
        var fitting = text;
        while (fitting.Length > 1 && page.MeasureString(fitting, font).Width > width) fitting = fitting[..^2].TrimEnd() + "…";
        page.DrawString(fitting, font, XBrushes.Black, left, baseline);
    }

    private static void DrawSymbol(XGraphics page, string code, BarcodeFormat format, double left, double top, double width, double height)
    {
        var matrix = new MultiFormatWriter().encode(code, format, 0, 0, new Dictionary<EncodeHintType, object>
        {
            [EncodeHintType.MARGIN] = 0,
            [EncodeHintType.DATA_MATRIX_SHAPE] = ZXing.Datamatrix.Encoder.SymbolShapeHint.FORCE_SQUARE,
        });
        var linear = format == BarcodeFormat.CODE_128;

        // A light margin of ten modules beside a linear code, of one around a square one.
        var module = linear ? Math.Min(width / (matrix.Width + 20), 0.5) : Math.Min(width, height) / (matrix.Width + 2);
        var offset = left + (width - matrix.Width * module) / 2;
        for (var y = 0; y < (linear ? 1 : matrix.Height); y++)
            foreach (var (from, length) in Runs(matrix, y))
                page.DrawRectangle(XBrushes.Black, offset + from * module, linear ? top : top + (y + 1) * module, length * module, linear ? height : module);
    }

    private static IEnumerable<(int From, int Length)> Runs(BitMatrix matrix, int y)
    {
        for (var x = 0; x < matrix.Width; x++)
        {
            if (!matrix[x, y]) continue;
            var from = x;
            while (x < matrix.Width && matrix[x, y]) x++;
            yield return (from, x - from);
        }
    }
}
