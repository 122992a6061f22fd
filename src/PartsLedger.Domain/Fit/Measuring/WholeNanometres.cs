using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>The one place where an exact fraction of nanometres becomes a length: rounded once, half away from zero.</summary>
internal static class WholeNanometres
{
    /// <param name="denominator">Above zero.</param>
    /// <exception cref="OverflowException">The quotient is no length.</exception>
    public static Length Of(Int128 numerator, Int128 denominator)
    {
        var (quotient, remainder) = Int128.DivRem(numerator, denominator);
        if (Int128.Abs(remainder) >= denominator - Int128.Abs(remainder)) quotient += Int128.Sign(numerator);
        return Length.FromNanometres(checked((long)quotient));
    }
}
