namespace PartsLedger.Domain.Measures;

/// <summary>
/// A unit people write a measure in, as an exact fraction of the grain it is stored in: an inch is 25 400 000 nm, a psi is
/// 8 896 443 230 521 / 1 290 320 000 Pa.
/// </summary>
/// <param name="Suffix">The ending of a column's header that names the unit: <c>mm</c> in <c>bore_mm</c>.</param>
/// <param name="GrainsNumerator">Grains in one unit, numerator; above zero.</param>
/// <param name="GrainsDenominator">Grains in one unit, denominator; above zero.</param>
/// <param name="Written">What may stand behind a number in a cell, without regard to case.</param>
public sealed record MeasureUnit(string Suffix, long GrainsNumerator, long GrainsDenominator, params IReadOnlyList<string> Written)
{
    /// <summary>
    /// The unit is no whole number of grains, so what is written in it is rounded once, half away from zero. In every other unit a
    /// value between two grains is finer than the shop can store and is refused.
    /// </summary>
    public bool Rounds => GrainsDenominator != 1;
}

/// <summary>Why a text is no measure.</summary>
public enum MeasureFault { None, NotANumber, UnknownUnit, NoUnit, TooFine, TooLarge }
