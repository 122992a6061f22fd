using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Pairing;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Fit;

/// <summary>The grain in which halves are paired: half of any form is whole in it, so nothing is rounded on the way.</summary>
public static class HalfNanometres
{
    private const decimal PerMicrometre = 2 * Length.NanometresPerMicrometre;

    public static long Of(Length length) => checked(2 * length.Nanometres);

    /// <summary>Rounded to the half-nanometre.</summary>
    public static long OfMicrometres(decimal micrometres) => (long)decimal.Round(micrometres * PerMicrometre);

    public static decimal ToMicrometres(long halfNanometres) => halfNanometres / PerMicrometre;

    public static decimal ToSquareMicrometres(UInt128 squares) => (decimal)squares / (PerMicrometre * PerMicrometre);

    /// <summary>A sized unit as the solver takes it.</summary>
    public static LooseHalf Loose(this SizedUnit unit, GuardFactor factor) =>
        new(Of(unit.Size!.Size), Guard.Of(unit.Size.Form, unit.Uncertainty, factor).HalfNanometres, unit.ClassId ?? 0);
}
