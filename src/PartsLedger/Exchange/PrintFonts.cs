using System.Reflection;
using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace PartsLedger.Exchange;

/// <summary>The fonts that are in the program, for everything it prints as PDF: the machine it runs on need not have any.</summary>
internal static class PrintFonts
{
    private static readonly Lock Setup = new();

    /// <summary>Once before the first document; again does nothing.</summary>
    public static void Use()
    {
        lock (Setup) GlobalFontSettings.FontResolver ??= new Fonts();
    }

    public static XFont Of(double size, bool bold) => new("Print", size, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);

    private sealed class Fonts : IFontResolver
    {
        public FontResolverInfo ResolveTypeface(string familyName, bool isBold, bool isItalic) =>
            new(isBold ? "DejaVuSans-Bold" : "DejaVuSans");

        public byte[] GetFont(string faceName)
        {
            using var font = Assembly.GetExecutingAssembly().GetManifestResourceStream($"PartsLedger.Exchange.Labels.Fonts.{faceName}.ttf")
                ?? throw new InvalidOperationException($"The font {faceName} is not in the program.");
            using var bytes = new MemoryStream();
            font.CopyTo(bytes);
            return bytes.ToArray();
        }
    }
}
