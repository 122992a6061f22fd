using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Flow;

/// <summary>What a missing shim would do: shown so that nobody leaves one out, never as a way to set a pressure.</summary>
/// <param name="OpensAtKilopascals">Where the relief would then open, zero at the least.</param>
/// <param name="ChangeKilopascals">Below zero: k t / A.</param>
/// <param name="Reason">For the person at the bench.</param>
public sealed record MissingShim(Band OpensAtKilopascals, Band ChangeKilopascals, string Reason);

/// <summary>
/// A direct-acting relief: it opens where the pressure on its seat's area bears the spring's load, p = k x / A. Shims behind the spring add
/// their thickness to its preload (a valve whose shims stand elsewhere is not this one). Holds for the opening point; seat friction, the width of the
/// seat's land and flow forces move it by several percent, which belong into the bands.
/// </summary>
public sealed record ReliefValve
{
    private ReliefValve(Band seatArea, Band rate, Band bare, Length shims) => (SeatAreaSquareMillimetres, NewtonsPerMillimetre, BarePreloadMillimetres, Shims) = (seatArea, rate, bare, shims);

    public Band SeatAreaSquareMillimetres { get; }

    /// <summary>The spring's rate; see <see cref="HelicalSpring"/>.</summary>
    public Band NewtonsPerMillimetre { get; }

    /// <summary>How far the spring is pressed together with no shim behind it.</summary>
    public Band BarePreloadMillimetres { get; }

    /// <summary>All shims together.</summary>
    public Length Shims { get; }

    /// <summary>Refusals: <c>INPUT_NOT_POSITIVE</c> and, for shims below zero, <c>SHIM_STACK</c>.</summary>
    public static Outcome<ReliefValve> Of(Band seatAreaSquareMillimetres, Band newtonsPerMillimetre, Band barePreloadMillimetres, Length shims)
    {
        if (Band.AllPositive(("seat's area, mm²,", seatAreaSquareMillimetres), ("spring's rate, N/mm,", newtonsPerMillimetre)) is { } refusal) return refusal;
        if (shims < Length.Zero || barePreloadMillimetres.Low + Mm(shims) <= 0)
            return new Refusal("SHIM_STACK", "With these shims the spring is not pressed together.", "Check the shim stack and the preload.");
        return new ReliefValve(seatAreaSquareMillimetres, newtonsPerMillimetre, barePreloadMillimetres, shims);
    }

    /// <summary>Where it begins to open.</summary>
    public Band OpensAtKilopascals => At(0);

    /// <summary>The pressure that holds it open by a lift; above the opening pressure by k times lift over A.</summary>
    public Band HeldOpenAtKilopascals(double liftMillimetres) => At(liftMillimetres);

    /// <summary>What the loss of one shim would do.</summary>
    /// <param name="thickness">Above zero and no more than the stack; refusal <c>SHIM_STACK</c>.</param>
    public Outcome<MissingShim> Without(Length thickness)
    {
        if (thickness <= Length.Zero || thickness > Shims)
            return new Refusal("SHIM_STACK", $"There is no shim of {MeasureText.Millimetres(thickness)} in a stack of {MeasureText.Millimetres(Shims)}.", "Count the shims again.");
        var opens = At(-Mm(thickness));
        var change = Band.Through(at => -at[0] * Mm(thickness) / at[1] * 1000, NewtonsPerMillimetre, SeatAreaSquareMillimetres);
        return new MissingShim(opens, change,
            $"Without its shim of {MeasureText.Millimetres(thickness)} this relief would open at {opens} kPa instead of {OpensAtKilopascals} kPa. "
            + "Shims belong to their valve and set its class: what came out goes back, in number and thickness, and pressures are set only by the maker's service information.");
    }

    private Band At(double furtherMillimetres) => Band.Through(at => Math.Max(0, at[0] * (at[1] + Mm(Shims) + furtherMillimetres) / at[2]) * 1000,
        NewtonsPerMillimetre, BarePreloadMillimetres, SeatAreaSquareMillimetres);

    private static double Mm(Length length) => (double)length.ToMillimetres();
}
