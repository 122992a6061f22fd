using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>Whether two measurements of the same piece, by two people or two gauges, say the same.</summary>
/// <param name="Difference">Second minus first, at 20 °C.</param>
/// <param name="Agree">|difference| ≤ √(U₁² + U₂²), compared exactly in whole numbers.</param>
/// <param name="EnNumber">|difference| / √(U₁² + U₂²), to be shown: up to 1 they agree. The En number of ISO/IEC 17043 and ISO 13528.</param>
public sealed record Repeatability(Length Difference, bool Agree, double EnNumber)
{
    /// <summary>Refusal <c>GAUGE_UNCERTAINTY</c> where an uncertainty is not above zero.</summary>
    /// <param name="firstUncertainty">Expanded, k = 2.</param>
    /// <param name="secondUncertainty">Expanded, k = 2.</param>
    public static Outcome<Repeatability> Of(Length first, Length firstUncertainty, Length second, Length secondUncertainty)
    {
        if (firstUncertainty <= Length.Zero || secondUncertainty <= Length.Zero)
            return new Refusal("GAUGE_UNCERTAINTY", "The uncertainty of a gauge is not known.", "Enter the expanded uncertainty of its calibration certificate.");
        var difference = second - first;
        var combined = Square(firstUncertainty) + Square(secondUncertainty);
        return new Repeatability(difference, Square(difference) <= combined, Math.Abs((double)difference.Nanometres) / Math.Sqrt((double)combined));
    }

    private static Int128 Square(Length length) => (Int128)length.Nanometres * length.Nanometres;
}
