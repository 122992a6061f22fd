using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace PartsLedger.Domain.Tests.Fit.Plots;

/// <summary>What every plot must be, checked on the text alone with none of the code that drew it.</summary>
internal static partial class SvgChecks
{
    public static XElement Sound(string svg)
    {
        var root = XElement.Parse(svg);
        Assert.Equal("svg", root.Name.LocalName);
        var box = root.Attribute("viewBox")!.Value.Split(' ').Select(number => double.Parse(number, CultureInfo.InvariantCulture)).ToArray();
        Assert.Equal("img", root.Attribute("role")!.Value);

        // Named for those who do not see it.
        var named = root.Attribute("aria-labelledby")!.Value.Split(' ');
        foreach (var id in named) Assert.NotEqual("", root.Elements().Single(element => element.Attribute("id")?.Value == id).Value.Trim());

        // A strict content policy lets it pass, and it fetches nothing.
        Assert.DoesNotContain(root.DescendantsAndSelf(), element => element.Name.LocalName is "script" or "style" or "image" or "use" or "foreignObject" or "a");
        var attributes = root.DescendantsAndSelf().SelectMany(element => element.Attributes()).ToList();
        Assert.DoesNotContain(attributes, attribute => attribute.Name.LocalName is "style" or "class" or "href" || attribute.Name.LocalName.StartsWith("on", StringComparison.Ordinal));

        // One colour only, that of the text around it; fills are none, that colour or a hatching that is there.
        var ids = attributes.Where(attribute => attribute.Name.LocalName == "id").Select(attribute => attribute.Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        foreach (var paint in attributes.Where(attribute => attribute.Name.LocalName is "fill" or "stroke" or "color"))
            Assert.True(paint.Value is "none" or "currentColor" || ids.Any(id => paint.Value == $"url(#{id})"), paint.ToString());

        // Everything drawn lies in the box.
        foreach (var path in Drawn(root).Where(element => element.Name.LocalName == "path"))
            foreach (var (x, y) in Points(path.Attribute("d")!.Value))
                Assert.True(x >= box[0] && x <= box[0] + box[2] && y >= box[1] && y <= box[1] + box[3], path.ToString());
        foreach (var text in Drawn(root).Where(element => element.Name.LocalName == "text"))
        {
            Assert.InRange(double.Parse(text.Attribute("x")!.Value, CultureInfo.InvariantCulture), box[0], box[0] + box[2]);
            Assert.InRange(double.Parse(text.Attribute("y")!.Value, CultureInfo.InvariantCulture), box[1], box[1] + box[3]);
        }
        return root;
    }

    /// <summary>Each series is told by shape and filling: the outlines of two series, moved to one place, are never the same.</summary>
    public static void SeriesDifferByShape(XElement root)
    {
        var looks = Drawn(root).Where(element => element.Attribute("data-series") is { Value: not "legend" })
            .GroupBy(element => element.Attribute("data-series")!.Value)
            .ToDictionary(series => series.Key, series => series.Select(Outline).ToHashSet());
        foreach (var (series, outlines) in looks)
        {
            Assert.Single(outlines);
            Assert.All(looks.Where(other => other.Key != series), other => Assert.DoesNotContain(outlines.Single(), other.Value));
        }
    }

    public static int Marks(XElement root, string series) => Drawn(root).Count(element => element.Attribute("data-series")?.Value == series);

    public static IReadOnlyList<string> Texts(XElement root) => [.. Drawn(root).Where(element => element.Name.LocalName == "text").Select(element => element.Value)];

    private static IEnumerable<XElement> Drawn(XElement root) => root.Descendants().Where(element => element.Ancestors().All(above => above.Name.LocalName != "defs"));

    private static string Outline(XElement mark)
    {
        var d = mark.Attribute("d")!.Value;
        var points = Points(d).ToList();
        var (x0, y0) = points[0];
        return $"{new string([.. d.Where(char.IsLetter)])} {string.Join(' ', points.Select(point => FormattableString.Invariant($"{point.X - x0:0.0},{point.Y - y0:0.0}")))}";
    }

    private static IEnumerable<(double X, double Y)> Points(string d)
    {
        foreach (Match command in Command().Matches(d))
        {
            var numbers = Number().Matches(command.Groups[2].Value).Select(number => double.Parse(number.Value, CultureInfo.InvariantCulture)).ToArray();
            if (command.Groups[1].Value != "Z") yield return (numbers[^2], numbers[^1]);
        }
    }

    [GeneratedRegex("([MLAZ])([^MLAZ]*)")]
    private static partial Regex Command();

    [GeneratedRegex(@"-?\d+(\.\d+)?")]
    private static partial Regex Number();
}
