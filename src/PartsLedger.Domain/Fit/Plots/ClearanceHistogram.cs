using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Plots;

/// <summary>How many pairs have which clearance, with the limits and the target; what is beyond a limit is hatched both ways.</summary>
public static class ClearanceHistogram
{
    /// <summary>Bars at the most: more than this many are too thin to print.</summary>
    public const int MostBars = 40;

    /// <param name="id">See <see cref="SvgDrawing(string, double, double, string, string)"/>.</param>
    /// <param name="clearances">Bore minus spool, one per pair.</param>
    public static string Draw(string id, string title, ClearanceLimits limits, IReadOnlyList<Length> clearances)
    {
        var bars = Bars(limits, clearances);
        var outside = clearances.Count(clearance => IsOutside(clearance, limits));
        List<double> ends = [Um(limits.Min), Um(limits.Max), .. bars.SelectMany(bar => new[] { Um(bar.From), Um(bar.To) })];
        var x = new PlotAxis(ends.Min(), ends.Max(), PlotFrame.Left, PlotFrame.Right);
        var y = new PlotAxis(0, bars.Select(bar => bar.Within + bar.Outside).DefaultIfEmpty(0).Max() is var most and > 0 ? most : 1, PlotFrame.Bottom, PlotFrame.Top, leastStep: 1);

        var drawing = new SvgDrawing(id, PlotFrame.Width, PlotFrame.Height, title,
            $"{clearances.Count} clearances, {outside} of them outside {MeasureText.Micrometres(limits.Min)} to {MeasureText.Micrometres(limits.Max)}; the target is {MeasureText.Micrometres(limits.Target)}."
            + (clearances.Count > 0 ? $" The smallest is {MeasureText.Micrometres(clearances.Min())}, the largest {MeasureText.Micrometres(clearances.Max())}." : ""));
        var frame = new PlotFrame(drawing);
        frame.Heading(title);
        foreach (var bar in bars)
        {
            Block(bar, 0, bar.Within, Hatching.Lines);
            Block(bar, bar.Within, bar.Outside, Hatching.Crossed);
        }
        frame.Axes(x, "Clearance, µm", y, "Pairs");
        foreach (var limit in (Length[])[limits.Min, limits.Max]) drawing.Line(x.At(Um(limit)), PlotFrame.Top, x.At(Um(limit)), PlotFrame.Bottom, 1.6, "6 3");
        drawing.Line(x.At(Um(limits.Target)), PlotFrame.Top, x.At(Um(limits.Target)), PlotFrame.Bottom, 1.6, "9 3 2 3");

        frame.Legend(Hatching.Lines, "within the limits");
        frame.Legend(Hatching.Crossed, "beyond a limit");
        frame.Legend(1.6, "6 3", $"limits {SvgDrawing.Number(Um(limits.Min))} and {SvgDrawing.Number(Um(limits.Max))} µm");
        frame.Legend(1.6, "9 3 2 3", $"target {SvgDrawing.Number(Um(limits.Target))} µm");
        if (clearances.Count == 0) frame.Remark("No pair.");
        return drawing.Finish();

        void Block(Bar bar, int from, int count, Hatching hatching)
        {
            if (count == 0) return;
            var (left, right, low, high) = (x.At(Um(bar.From)), x.At(Um(bar.To)), y.At(from), y.At(from + count));
            drawing.Area([(left, low), (left, high), (right, high), (right, low)], hatching, outlined: true);
        }
    }

    /// <summary>Clearances from one end up to, not including, the other.</summary>
    internal sealed record Bar(Length From, Length To, int Within, int Outside);

    /// <summary>Bars of one width, a round number of nanometres, from round multiples of it; about the root of the number of pairs.</summary>
    internal static IReadOnlyList<Bar> Bars(ClearanceLimits limits, IReadOnlyList<Length> clearances)
    {
        if (clearances.Count == 0) return [];
        var (least, most) = (clearances.Min().Nanometres, clearances.Max().Nanometres);
        var wanted = Math.Clamp((int)Math.Sqrt(clearances.Count), 5, MostBars - 1);

        // Up to one bar more than the width divides, for the ends that are no multiples of it.
        long width = 1;
        for (var at = 0; (most - least) / width >= wanted; at++) width = RoundWidth(at);
        return [.. clearances.GroupBy(clearance => Floor(clearance.Nanometres, width)).OrderBy(bin => bin.Key).Select(bin => new Bar(
            Length.FromNanometres(bin.Key * width), Length.FromNanometres((bin.Key + 1) * width),
            bin.Count(clearance => !IsOutside(clearance, limits)), bin.Count(clearance => IsOutside(clearance, limits))))];
    }

    private static bool IsOutside(Length clearance, ClearanceLimits limits) => clearance < limits.Min || clearance > limits.Max;

    private static long Floor(long value, long width) => value >= 0 ? value / width : -((-value + width - 1) / width);

    /// <summary>1, 2, 5, 10, 20, 50 …</summary>
    private static long RoundWidth(int at)
    {
        long width = (at % 3) switch { 0 => 1, 1 => 2, _ => 5 };
        for (var tens = at / 3; tens > 0; tens--) width *= 10;
        return width;
    }

    private static double Um(Length length) => (double)length.ToMicrometres();
}
