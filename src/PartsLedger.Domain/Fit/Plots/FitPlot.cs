using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Plots;

/// <param name="Size">At 20 °C.</param>
public sealed record PlottedUnit(string Tag, Length Size);

/// <summary>A housing and a valve to be shown together: proposed where it fits, or one that the gauges cannot tell.</summary>
public sealed record PlottedPair(PlottedUnit Housing, PlottedUnit Valve, FitOutcome Outcome);

/// <summary>
/// The sizes of a family's and class's housings and valves against each other: housings along the bottom, valves up the left edge, the band
/// in which a pair's clearance is within the limits, and the pairs as points in it. Sizes are shown as deviations from one length, in µm.
/// </summary>
public static class FitPlot
{
    /// <summary>Marks of one kind that are drawn; how many more there are is said under the legend and in the description.</summary>
    public const int MostMarks = 2_000;

    /// <param name="id">See <see cref="SvgDrawing(string, double, double, string, string)"/>.</param>
    /// <param name="nominal">The length from which deviations are shown: the family's bore.</param>
    public static string Draw(
        string id, string title, Length nominal, ClearanceLimits limits,
        IReadOnlyList<PlottedUnit> housings, IReadOnlyList<PlottedUnit> valves, IReadOnlyList<PlottedPair> pairs)
    {
        double From(Length size) => (double)(size - nominal).ToMicrometres();
        var (min, target, max) = ((double)limits.Min.ToMicrometres(), (double)limits.Target.ToMicrometres(), (double)limits.Max.ToMicrometres());
        var told = pairs.Where(pair => pair.Outcome == FitOutcome.Fits).ToList();
        var untold = pairs.Where(pair => pair.Outcome == FitOutcome.CannotTell).ToList();
        var unfit = pairs.Where(pair => pair.Outcome == FitOutcome.DoesNotFit).ToList();
        List<double> bores = [.. housings.Concat(pairs.Select(pair => pair.Housing)).Select(unit => From(unit.Size))];
        List<double> spools = [.. valves.Concat(pairs.Select(pair => pair.Valve)).Select(unit => From(unit.Size))];

        // Where there is no housing, those that the valves would need; the upright axis takes in the band over the whole level one.
        if (bores.Count == 0) bores.AddRange(spools.Count > 0 ? spools.SelectMany(spool => new[] { spool + min, spool + max }) : [0, max]);
        var x = new PlotAxis(bores.Min(), bores.Max(), PlotFrame.Left, PlotFrame.Right);
        var y = new PlotAxis(spools.Append(x.Low - max).Min(), spools.Append(x.High - min).Max(), PlotFrame.Bottom, PlotFrame.Top);

        var hidden = new[] { housings.Count, valves.Count, told.Count, untold.Count, unfit.Count }.Sum(count => Math.Max(0, count - MostMarks));
        var drawing = new SvgDrawing(id, PlotFrame.Width, PlotFrame.Height, title,
            $"{housings.Count} housings against {valves.Count} valves, with clearances from {MeasureText.Micrometres(limits.Min)} to {MeasureText.Micrometres(limits.Max)} allowed: "
            + $"{told.Count} pairs that fit, {untold.Count} that cannot be told with these gauges{(unfit.Count > 0 ? $", {unfit.Count} that do not fit" : "")}."
            + (hidden > 0 ? $" {hidden} marks more are not drawn." : ""));
        var frame = new PlotFrame(drawing);
        frame.Heading(title);

        (double X, double Y) Corner(double bore, double clearance) => (x.At(bore), y.At(bore - clearance));
        drawing.Area([Corner(x.Low, max), Corner(x.High, max), Corner(x.High, min), Corner(x.Low, min)], Hatching.Lines);
        foreach (var limit in (double[])[min, max]) drawing.Polyline([Corner(x.Low, limit), Corner(x.High, limit)], 1.3, "6 3");
        drawing.Polyline([Corner(x.Low, target), Corner(x.High, target)], 1.3, "9 3 2 3");
        frame.Axes(x, $"Bore, µm from {MeasureText.Millimetres(nominal)}", y, $"Spool, µm from {MeasureText.Millimetres(nominal)}");

        var taken = pairs.Where(pair => pair.Outcome != FitOutcome.DoesNotFit).SelectMany(pair => new[] { pair.Housing.Tag, pair.Valve.Tag }).ToHashSet(StringComparer.OrdinalIgnoreCase);
        foreach (var unit in housings.Take(MostMarks))
            drawing.Mark(MarkShape.Triangle, taken.Contains(unit.Tag), x.At(From(unit.Size)), PlotFrame.Bottom + 11, "housing", $"{unit.Tag}: {MeasureText.Millimetres(unit.Size)}");
        foreach (var unit in valves.Take(MostMarks))
            drawing.Mark(MarkShape.Square, taken.Contains(unit.Tag), PlotFrame.Left - 11, y.At(From(unit.Size)), "valve", $"{unit.Tag}: {MeasureText.Millimetres(unit.Size)}");
        Pairs(unfit, MarkShape.Cross, false, "does-not-fit");
        Pairs(untold, MarkShape.Diamond, false, "cannot-tell");
        Pairs(told, MarkShape.Circle, true, "fits");

        frame.Legend(MarkShape.Circle, true, "pair that fits");
        frame.Legend(MarkShape.Diamond, false, "cannot be told");
        if (unfit.Count > 0) frame.Legend(MarkShape.Cross, false, "does not fit");
        frame.Legend(MarkShape.Triangle, false, "housing (filled: paired)");
        frame.Legend(MarkShape.Square, false, "valve (filled: paired)");
        frame.Legend(Hatching.Lines, "clearance within limits");
        frame.Legend(1.3, "6 3", $"limits {SvgDrawing.Number(min)} and {SvgDrawing.Number(max)} µm");
        frame.Legend(1.3, "9 3 2 3", $"target {SvgDrawing.Number(target)} µm");
        if (housings.Count == 0) frame.Remark("No measured housing.");
        if (valves.Count == 0) frame.Remark("No measured valve.");
        if (hidden > 0) frame.Remark($"{hidden} more are not drawn.");
        return drawing.Finish();

        void Pairs(List<PlottedPair> some, MarkShape shape, bool filled, string series)
        {
            foreach (var pair in some.Take(MostMarks))
                drawing.Mark(shape, filled, x.At(From(pair.Housing.Size)), y.At(From(pair.Valve.Size)), series,
                    $"{pair.Housing.Tag} with {pair.Valve.Tag}: {MeasureText.Micrometres(pair.Housing.Size - pair.Valve.Size)}");
        }
    }
}
