namespace PartsLedger.Domain.Fit.Plots;

/// <summary>The flow expected at a speed, and the band it is expected in. All finite; low ≤ flow ≤ high.</summary>
public sealed record ExpectedFlow(double RevolutionsPerMinute, double LitresPerMinute, double Low, double High);

/// <summary>A flow read off the bench. Finite.</summary>
public sealed record MeasuredFlow(double RevolutionsPerMinute, double LitresPerMinute);

/// <summary>Flow over speed: what is expected, within which band, and what the bench showed.</summary>
public static class FlowCurve
{
    /// <param name="id">See <see cref="SvgDrawing(string, double, double, string, string)"/>.</param>
    /// <param name="expected">In any order; straight lines between.</param>
    /// <exception cref="ArgumentException">A value is not finite.</exception>
    public static string Draw(string id, string title, IReadOnlyList<ExpectedFlow> expected, IReadOnlyList<MeasuredFlow> measured)
    {
        var curve = expected.OrderBy(point => point.RevolutionsPerMinute).ToList();
        var judged = measured.Select(point => (Point: point, Place: PlaceOf(point, curve))).ToList();
        double[] speeds = [0, .. curve.Select(point => point.RevolutionsPerMinute), .. measured.Select(point => point.RevolutionsPerMinute)];
        double[] flows = [0, .. curve.SelectMany(point => new[] { point.Low, point.LitresPerMinute, point.High }), .. measured.Select(point => point.LitresPerMinute)];
        if (speeds.Concat(flows).Any(value => !double.IsFinite(value))) throw new ArgumentException("A speed or a flow is not finite.", nameof(measured));
        var x = new PlotAxis(speeds.Min(), speeds.Max(), PlotFrame.Left, PlotFrame.Right);
        var y = new PlotAxis(flows.Min(), flows.Max(), PlotFrame.Bottom, PlotFrame.Top);

        int Count(Place place) => judged.Count(point => point.Place == place);
        var drawing = new SvgDrawing(id, PlotFrame.Width, PlotFrame.Height, title,
            $"Flow over speed: {measured.Count} measured points, {Count(Place.Within)} of them within the expected band and {Count(Place.Outside)} outside it."
            + (Count(Place.Unexpected) is > 0 and var unexpected ? $" For {unexpected} no flow is expected." : ""));
        var frame = new PlotFrame(drawing);
        frame.Heading(title);

        (double X, double Y) At(double speed, double flow) => (x.At(speed), y.At(flow));
        if (curve.Count > 1)
        {
            var low = curve.Select(point => At(point.RevolutionsPerMinute, point.Low)).ToList();
            var high = curve.Select(point => At(point.RevolutionsPerMinute, point.High)).ToList();
            drawing.Area([.. low, .. Enumerable.Reverse(high)], Hatching.Lines);
            drawing.Polyline(low, 1, "4 3");
            drawing.Polyline(high, 1, "4 3");
            drawing.Polyline(curve.Select(point => At(point.RevolutionsPerMinute, point.LitresPerMinute)), 1.8);
        }
        frame.Axes(x, "Speed, rev/min", y, "Flow, L/min");
        foreach (var (point, place) in judged)
        {
            var (shape, filled, series, _) = Look(place);
            drawing.Mark(shape, filled, x.At(point.RevolutionsPerMinute), y.At(point.LitresPerMinute), series,
                $"{SvgDrawing.Number(point.LitresPerMinute)} L/min at {SvgDrawing.Number(point.RevolutionsPerMinute)} rev/min");
        }

        frame.Legend(1.8, "", "expected");
        frame.Legend(Hatching.Lines, "expected band");
        foreach (var place in Enum.GetValues<Place>().Where(place => place == Place.Within || Count(place) > 0))
        {
            var (shape, filled, _, says) = Look(place);
            frame.Legend(shape, filled, says);
        }
        if (curve.Count < 2) frame.Remark("No expected curve.");
        if (measured.Count == 0) frame.Remark("Nothing measured yet.");
        return drawing.Finish();
    }

    private enum Place { Within, Outside, Unexpected }

    private static (MarkShape Shape, bool Filled, string Series, string Says) Look(Place place) => place switch
    {
        Place.Within => (MarkShape.Circle, true, "within", "measured, within the band"),
        Place.Outside => (MarkShape.Cross, false, "outside", "measured, outside it"),
        _ => (MarkShape.Diamond, false, "unexpected", "measured, none expected"),
    };

    private static Place PlaceOf(MeasuredFlow measured, List<ExpectedFlow> curve)
    {
        for (var at = 1; at < curve.Count; at++)
        {
            var (before, after) = (curve[at - 1], curve[at]);
            if (measured.RevolutionsPerMinute < before.RevolutionsPerMinute || measured.RevolutionsPerMinute > after.RevolutionsPerMinute) continue;
            var span = after.RevolutionsPerMinute - before.RevolutionsPerMinute;
            var share = span > 0 ? (measured.RevolutionsPerMinute - before.RevolutionsPerMinute) / span : 0;
            var low = before.Low + (share * (after.Low - before.Low));
            var high = before.High + (share * (after.High - before.High));
            return measured.LitresPerMinute >= low && measured.LitresPerMinute <= high ? Place.Within : Place.Outside;
        }
        return Place.Unexpected;
    }
}
