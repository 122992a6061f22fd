namespace PartsLedger.Domain.Fit.Plots;

/// <summary>What every plot has: a heading, two axes with their names and marks, and a legend at the right.</summary>
internal sealed class PlotFrame(SvgDrawing drawing)
{
    public const double Width = 790;
    public const double Height = 480;
    public const double Left = 76;
    public const double Right = 540;
    public const double Top = 56;
    public const double Bottom = 410;

    private const double LegendLeft = 566;
    private const double LegendRow = 24;
    private double _legendAt = Top + 8;

    public void Heading(string title) => drawing.Text(Left, 24, SvgDrawing.Brief(title, 80), bold: true);

    public void Axes(PlotAxis x, string xName, PlotAxis y, string yName)
    {
        drawing.Polyline([(Left, Top), (Left, Bottom), (Right, Bottom), (Right, Top), (Left, Top)]);
        foreach (var tick in x.Ticks)
        {
            drawing.Line(x.At(tick), Bottom, x.At(tick), Bottom + 5);
            drawing.Text(x.At(tick), Bottom + 30, SvgDrawing.Number(tick), "middle");
        }
        foreach (var tick in y.Ticks)
        {
            drawing.Line(Left - 5, y.At(tick), Left, y.At(tick));
            drawing.Text(Left - 20, y.At(tick) + 4, SvgDrawing.Number(tick), "end");
        }
        drawing.Text((Left + Right) / 2, Bottom + 56, xName, "middle");
        drawing.Text(16, (Top + Bottom) / 2, yName, "middle", upwards: true);
    }

    /// <summary>The next row of the legend as a mark.</summary>
    public void Legend(MarkShape shape, bool filled, string says) => Row(says, y => drawing.Mark(shape, filled, LegendLeft + 12, y, "legend"));

    /// <summary>The next row of the legend as a line.</summary>
    public void Legend(double thickness, string dashes, string says) => Row(says, y => drawing.Line(LegendLeft, y, LegendLeft + 24, y, thickness, dashes));

    /// <summary>The next row of the legend as an area.</summary>
    public void Legend(Hatching hatching, string says) => Row(says, y => drawing.Area(
        [(LegendLeft, y - 7), (LegendLeft + 24, y - 7), (LegendLeft + 24, y + 7), (LegendLeft, y + 7)], hatching, outlined: true));

    /// <summary>A remark under the legend.</summary>
    public void Remark(string says)
    {
        drawing.Text(LegendLeft, _legendAt + 4, SvgDrawing.Brief(says, 30));
        _legendAt += LegendRow;
    }

    private void Row(string says, Action<double> sample)
    {
        sample(_legendAt);
        drawing.Text(LegendLeft + 32, _legendAt + 4, SvgDrawing.Brief(says, 26));
        _legendAt += LegendRow;
    }
}
