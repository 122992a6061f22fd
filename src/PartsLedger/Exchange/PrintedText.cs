using System.Text;

namespace PartsLedger.Exchange;

/// <summary>
/// How much room a text takes on paper. No fonts are asked: the machine that writes a sheet is seldom the one that prints it. The
/// advances are those of Arial and of the fonts made to its measure, and what is not among them counts as wide, so a text may be given
/// a little too much room and is never cut.
/// </summary>
public static class PrintedText
{
    /// <summary>
    /// One unit of column width, a digit of the sheet's default font (Arial 10 pt), in points as the narrowest program counts it: some
    /// round it down to whole pixels of a screen, others print it as it is, 5.7. A sheet that is to fill a page counts with the widest.
    /// </summary>
    public const double PointsPerUnit = 5.25;

    // Advances in thousandths of the font size, from space (32) to tilde (126).
    private static readonly short[] Advances =
    [
        278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
        556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
        1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
        667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
        333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
        556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
    ];

    /// <summary>
    /// The text broken into the lines it takes in a cell of the given width: at white space, or inside a word that is wider than the cell.
    /// </summary>
    /// <param name="text">Cleaned text; a line feed begins a new line.</param>
    /// <param name="widthUnits">Width of the column, or of all columns of a merged cell, in units of column width; above zero.</param>
    /// <param name="fontPoints">Font size in points.</param>
    /// <param name="bold">Bold letters are about a tenth wider.</param>
    public static IReadOnlyList<string> Wrap(string text, double widthUnits, double fontPoints, bool bold = false)
    {
        // A cell keeps a margin on both sides, and programs differ by a few percent in how they lay out a line.
        var room = ((widthUnits - 0.5) * PointsPerUnit * 0.96) / (fontPoints / 1000 * (bold ? 1.1 : 1));
        var lines = new List<string>();
        foreach (var paragraph in text.Split('\n')) WrapParagraph(paragraph, room, lines);
        return lines;
    }

    private static void WrapParagraph(string paragraph, double room, List<string> lines)
    {
        var line = new StringBuilder();
        var used = 0;
        foreach (var word in paragraph.Split(' '))
        {
            var width = Advance(word);
            if (line.Length > 0 && used + Advances[0] + width > room)
            {
                lines.Add(line.ToString());
                line.Clear();
                used = 0;
            }
            if (line.Length > 0)
            {
                line.Append(' ');
                used += Advances[0];
            }
            foreach (var rune in word.EnumerateRunes())
            {
                var advance = Advance(rune);
                if (line.Length > 0 && used + advance > room)
                {
                    lines.Add(line.ToString());
                    line.Clear();
                    used = 0;
                }
                line.Append(rune);
                used += advance;
            }
        }
        lines.Add(line.ToString());
    }

    private static int Advance(string word)
    {
        var sum = 0;
        foreach (var rune in word.EnumerateRunes()) sum += Advance(rune);
        return sum;
    }

    private static int Advance(Rune rune) => rune.Value switch
    {
        >= 32 and <= 126 => Advances[rune.Value - 32],
        < 0x250 => 667,
        < 0x10000 => 1000,
        _ => 1400,
    };
}
