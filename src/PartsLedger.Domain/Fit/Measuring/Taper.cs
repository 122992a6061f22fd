using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>How the diameter changes along the axis, at 20 °C; only readings whose depth is known count.</summary>
/// <param name="Difference">
/// Largest mean of a depth minus smallest, zero or more: also what a barrel or a waist shows. Rounded once to whole nanometres.
/// </param>
/// <param name="NanometresPerMillimetre">
/// Slope of the least-squares line through all readings over depth, above zero where the diameter grows with depth; rounded to thousandths,
/// half away from zero. Depths are taken as read: their own growth with heat would change the slope by a few ten-thousandths of itself.
/// </param>
public sealed record Taper(Length Difference, decimal NanometresPerMillimetre)
{
    internal static Taper? Of(IReadOnlyList<PlacedReading> readings, int milliCelsius, ThermalExpansion metal)
    {
        var placed = readings.Where(reading => reading.Depth is not null).ToList();
        var depths = placed.GroupBy(reading => reading.Depth!.Value).ToList();
        if (depths.Count < 2) return null;

        // The difference of two exact means, so that it is rounded once: over the product of the two counts.
        var means = depths.Select(depth => (Sum: UnitSize.Sum(depth), Count: depth.Count())).ToList();
        var (largest, smallest) = (means[0], means[0]);
        foreach (var mean in means)
        {
            if (mean.Sum * largest.Count > largest.Sum * mean.Count) largest = mean;
            if (mean.Sum * smallest.Count < smallest.Sum * mean.Count) smallest = mean;
        }
        var difference = metal.MeanAt20((largest.Sum * smallest.Count) - (smallest.Sum * largest.Count), largest.Count * smallest.Count, milliCelsius);
        return new Taper(difference, Slope(placed, milliCelsius, metal));
    }

    /// <summary>n Σzd − Σz Σd over n Σz² − (Σz)², in nanometres; diameters from the smallest and depths from the shallowest keep the sums small.</summary>
    private static decimal Slope(List<PlacedReading> placed, int milliCelsius, ThermalExpansion metal)
    {
        var (depth0, diameter0) = (placed.Min(reading => reading.Depth!.Value), placed.Min(reading => reading.Diameter));
        Int128 n = placed.Count, z = 0, d = 0, zd = 0, zz = 0;
        foreach (var reading in placed)
        {
            Int128 depth = (reading.Depth!.Value - depth0).Nanometres, diameter = (reading.Diameter - diameter0).Nanometres;
            (z, d, zd, zz) = (z + depth, d + diameter, zd + (depth * diameter), zz + (depth * depth));
        }

        // Times a billion: thousandths of a nanometre per millimetre are 1e-9 of a length per length.
        var billionths = WholeNanometres.Of(((n * zd) - (z * d)) * 1_000_000_000, (n * zz) - (z * z));
        return metal.At20(billionths, milliCelsius).Nanometres / 1000m;
    }
}
