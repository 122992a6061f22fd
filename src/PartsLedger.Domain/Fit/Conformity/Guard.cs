using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Conformity;

/// <summary>
/// What a unit keeps clear of both limits: e = form / 2 + g U, in half-nanometres, in which half a form is whole. With g = 1 it is exact;
/// a smaller g U that is no whole number of half-nanometres is rounded up, so that the guard is never less than asked for.
/// </summary>
public readonly record struct Guard(long HalfNanometres)
{
    /// <param name="form">Largest reading minus smallest; zero or more.</param>
    /// <param name="uncertainty">Of the gauge, expanded, k = 2; zero or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">Either is below zero.</exception>
    public static Guard Of(Length form, Length uncertainty, GuardFactor factor = default)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(form, Length.Zero);
        ArgumentOutOfRangeException.ThrowIfLessThan(uncertainty, Length.Zero);
        return new(checked(form.Nanometres + Scaled(uncertainty, factor)));
    }

    /// <summary>2 g U, rounded up.</summary>
    internal static long Scaled(Length uncertainty, GuardFactor factor) =>
        checked((long)((((Int128)uncertainty.Nanometres * 2 * factor.Thousandths) + GuardFactor.Whole - 1) / GuardFactor.Whole));
}
