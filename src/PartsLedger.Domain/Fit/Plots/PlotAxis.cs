namespace PartsLedger.Domain.Fit.Plots;

/// <summary>One axis: the values it shows, where they lie on the drawing, and the round values it is marked at.</summary>
internal sealed class PlotAxis
{
    private readonly double _from;
    private readonly double _to;

    /// <param name="low">Least value to be shown.</param>
    /// <param name="high">Greatest value to be shown; where it is not above the least, the axis is widened by one either way.</param>
    /// <param name="from">Where the lower end lies.</param>
    /// <param name="to">Where the upper end lies.</param>
    /// <param name="steps">About how many marks.</param>
    /// <param name="leastStep">The marks are never closer than this: 1 for what is counted.</param>
    public PlotAxis(double low, double high, double from, double to, int steps = 8, double leastStep = 0)
    {
        if (!double.IsFinite(low) || !double.IsFinite(high)) throw new ArgumentException("An axis needs finite values.", nameof(low));
        if (high <= low) (low, high) = (low - 1, high + 1);
        Step = Math.Max(leastStep, RoundStep((high - low) / steps));
        (Low, High, _from, _to) = (Math.Floor(low / Step) * Step, Math.Ceiling(high / Step) * Step, from, to);
    }

    public double Low { get; }
    public double High { get; }
    public double Step { get; }

    /// <summary>The marks, both ends included.</summary>
    public IEnumerable<double> Ticks => Enumerable.Range(0, (int)Math.Round((High - Low) / Step) + 1).Select(at => Math.Round((Low + (at * Step)) / Step) * Step);

    public double At(double value) => _from + ((value - Low) / (High - Low) * (_to - _from));

    /// <summary>The least of 1, 2 or 5 times a power of ten that is not below.</summary>
    private static double RoundStep(double atLeast)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(atLeast)));
        foreach (var times in (double[])[1, 2, 5])
            if (times * power >= atLeast * (1 - 1e-9)) return times * power;
        return 10 * power;
    }
}
