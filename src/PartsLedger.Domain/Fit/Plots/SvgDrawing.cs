using System.Globalization;
using System.Text;
using System.Xml;

namespace PartsLedger.Domain.Fit.Plots;

/// <summary>
/// Writes a drawing as SVG text that goes into a page as it is or into a file. Everything is drawn in the colour of the text around it
/// (<c>currentColor</c>) on no background, so that it follows light and dark and prints black on white; there is no script, no style and
/// nothing to fetch, so that a strict content policy lets it pass. Every text is escaped.
/// </summary>
internal sealed class SvgDrawing
{
    private const string Namespace = "http://www.w3.org/2000/svg";
    private const double MarkRadius = 4.5;

    private readonly StringBuilder _text = new();
    private readonly XmlWriter _xml;
    private readonly string _id;

    /// <param name="id">Letters, digits and dashes from a letter on; unlike every other on the page.</param>
    /// <param name="title">What is drawn.</param>
    /// <param name="description">What is to be seen in it, for those who do not see it.</param>
    /// <exception cref="ArgumentException"><paramref name="id"/> is none.</exception>
    public SvgDrawing(string id, double width, double height, string title, string description)
    {
        if (id.Length == 0 || !char.IsAsciiLetter(id[0]) || id.Any(character => !char.IsAsciiLetterOrDigit(character) && character != '-'))
            throw new ArgumentException("An id is letters, digits and dashes, and begins with a letter.", nameof(id));
        _id = id;
        _xml = XmlWriter.Create(_text, new XmlWriterSettings { OmitXmlDeclaration = true, ConformanceLevel = ConformanceLevel.Fragment });
        _xml.WriteStartElement("svg", Namespace);
        Attributes(("viewBox", $"0 0 {Number(width)} {Number(height)}"), ("role", "img"), ("aria-labelledby", $"{id}-title {id}-desc"),
            ("color", "currentColor"), ("font-family", "sans-serif"), ("font-size", "12"), ("fill", "none"), ("stroke", "none"));
        Labelled("title", $"{id}-title", title);
        Labelled("desc", $"{id}-desc", description);
        _xml.WriteStartElement("defs", Namespace);
        Pattern(Hatching.Lines, "M0 8L8 0");
        Pattern(Hatching.Crossed, "M0 8L8 0M0 0L8 8");
        _xml.WriteEndElement();
    }

    public static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    /// <param name="dashes">As in <c>stroke-dasharray</c>; none for an unbroken line.</param>
    public void Line(double x1, double y1, double x2, double y2, double thickness = 1, string dashes = "") => Path($"M{Number(x1)} {Number(y1)}L{Number(x2)} {Number(y2)}", thickness, dashes);

    public void Polyline(IEnumerable<(double X, double Y)> points, double thickness = 1, string dashes = "") => Path(Corners(points), thickness, dashes);

    public void Area(IEnumerable<(double X, double Y)> points, Hatching hatching, bool outlined = false)
    {
        _xml.WriteStartElement("path", Namespace);
        Attributes(("d", $"{Corners(points)}Z"), ("fill", $"url(#{PatternId(hatching)})"));
        if (outlined) Attributes(("stroke", "currentColor"), ("stroke-width", "1"));
        _xml.WriteEndElement();
    }

    public void Text(double x, double y, string text, string anchor = "start", bool bold = false, bool upwards = false)
    {
        _xml.WriteStartElement("text", Namespace);
        Attributes(("x", Number(x)), ("y", Number(y)), ("fill", "currentColor"), ("text-anchor", anchor));
        if (bold) Attributes(("font-weight", "bold"));
        if (upwards) Attributes(("transform", $"rotate(-90 {Number(x)} {Number(y)})"));
        _xml.WriteString(Clean(text));
        _xml.WriteEndElement();
    }

    /// <param name="series">The name of what it stands for, kept as <c>data-series</c>.</param>
    /// <param name="says">What the pointer shows above it.</param>
    public void Mark(MarkShape shape, bool filled, double x, double y, string series, string says = "")
    {
        _xml.WriteStartElement("path", Namespace);
        Attributes(("d", Outline(shape, x, y)), ("fill", filled && shape != MarkShape.Cross ? "currentColor" : "none"), ("stroke", "currentColor"),
            ("stroke-width", "1.3"), ("data-series", series));
        if (says.Length > 0)
        {
            _xml.WriteStartElement("title", Namespace);
            _xml.WriteString(Clean(says));
            _xml.WriteEndElement();
        }
        _xml.WriteEndElement();
    }

    public string Finish()
    {
        _xml.WriteEndElement();
        _xml.Flush();
        return _text.ToString();
    }

    /// <summary>As much of a text as there is room for.</summary>
    public static string Brief(string text, int characters) => text.Length <= characters ? text : $"{text[..(characters - 1)]}…";

    private void Path(string d, double thickness, string dashes)
    {
        _xml.WriteStartElement("path", Namespace);
        Attributes(("d", d), ("stroke", "currentColor"), ("stroke-width", Number(thickness)));
        if (dashes.Length > 0) Attributes(("stroke-dasharray", dashes));
        _xml.WriteEndElement();
    }

    private static string Corners(IEnumerable<(double X, double Y)> points) => $"M{string.Join('L', points.Select(point => $"{Number(point.X)} {Number(point.Y)}"))}";

    private static string Outline(MarkShape shape, double x, double y)
    {
        const double r = MarkRadius;
        return shape switch
        {
            MarkShape.Square => Corners([(x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)]) + "Z",
            MarkShape.Triangle => Corners([(x, y - r), (x + r, y + r), (x - r, y + r)]) + "Z",
            MarkShape.Diamond => Corners([(x, y - r), (x + r, y), (x, y + r), (x - r, y)]) + "Z",
            MarkShape.Cross => Corners([(x - r, y - r), (x + r, y + r)]) + Corners([(x - r, y + r), (x + r, y - r)]),
            _ => $"M{Number(x - r)} {Number(y)}A{r} {r} 0 1 0 {Number(x + r)} {Number(y)}A{r} {r} 0 1 0 {Number(x - r)} {Number(y)}Z",
        };
    }

    private void Labelled(string element, string id, string text)
    {
        _xml.WriteStartElement(element, Namespace);
        Attributes(("id", id));
        _xml.WriteString(Clean(text));
        _xml.WriteEndElement();
    }

    private string PatternId(Hatching hatching) => hatching == Hatching.Lines ? $"{_id}-lines" : $"{_id}-crossed";

    private void Pattern(Hatching hatching, string d)
    {
        _xml.WriteStartElement("pattern", Namespace);
        Attributes(("id", PatternId(hatching)), ("width", "8"), ("height", "8"), ("patternUnits", "userSpaceOnUse"));
        _xml.WriteStartElement("path", Namespace);
        Attributes(("d", d), ("stroke", "currentColor"), ("stroke-width", "0.7"));
        _xml.WriteEndElement();
        _xml.WriteEndElement();
    }

    private void Attributes(params (string Name, string Value)[] attributes)
    {
        foreach (var (name, value) in attributes) _xml.WriteAttributeString(name, Clean(value));
    }

    /// <summary>A character that no XML may hold, or half of one, becomes the mark for such.</summary>
    private static string Clean(string text)
    {
        var clean = new StringBuilder(text.Length);
        for (var at = 0; at < text.Length; at++)
        {
            if (at + 1 < text.Length && XmlConvert.IsXmlSurrogatePair(text[at + 1], text[at])) clean.Append(text[at]).Append(text[++at]);
            else clean.Append(XmlConvert.IsXmlChar(text[at]) ? text[at] : '\uFFFD');
        }
        return clean.ToString();
    }
}
