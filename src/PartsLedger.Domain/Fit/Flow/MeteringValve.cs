using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Flow;

/// <summary>
/// A two-stage metering valve: the flow that goes out passes two orifices side by side, a fixed one and one that a pin or the spool narrows
/// as the speed rises. The valve's spring holds the pressure drop across them, Δp = F / A, by letting go what is too much, so that the
/// regulated flow is Cd (A_fixed + A_second) √(2 Δp / ρ) (see <see cref="Orifice"/>). Below the speed at which the pump gives that much, the flow
/// is the pump's own: displacement × speed × volumetric efficiency. Between the two speeds the second orifice narrows in a straight line
/// over speed, which is a model: the shape between them is the maker's, the flows at both ends are the orifices'.
/// </summary>
public sealed record MeteringValve
{
    private MeteringValve(MeteringOrifices orifices, Band drop, Band density) => (Orifices, DropKilopascals, Density) = (orifices, drop, density);

    public MeteringOrifices Orifices { get; }

    /// <summary>Spring force over the spool end's area.</summary>
    public Band DropKilopascals { get; }

    /// <summary>kg/m³.</summary>
    public Band Density { get; }

    /// <summary>Refusals: <c>INPUT_NOT_POSITIVE</c>, <c>METERING_SPEEDS</c>, <c>METERING_AREAS</c>.</summary>
    /// <param name="springNewtons">The valve spring's force where the valve regulates.</param>
    /// <param name="spoolEndSquareMillimetres">The area on which the pressure drop bears.</param>
    public static Outcome<MeteringValve> Of(MeteringOrifices orifices, Band springNewtons, Band spoolEndSquareMillimetres, Band density)
    {
        if (Band.AllPositive(("discharge coefficient", orifices.DischargeCoefficient), ("fixed orifice, mm²,", orifices.FixedSquareMillimetres),
            ("second orifice wide open, mm²,", orifices.OpenSquareMillimetres), ("spring's force, N,", springNewtons),
            ("spool end's area, mm²,", spoolEndSquareMillimetres), ("density, kg/m³,", density)) is { } refusal) return refusal;
        if (orifices.NarrowedSquareMillimetres.Low < 0 || orifices.NarrowedSquareMillimetres.Value > orifices.OpenSquareMillimetres.Value)
            return new Refusal("METERING_AREAS", "The second orifice is wider when narrowed than when open, or below nothing.", "Check the two areas.");
        if (!(orifices.NarrowsFrom >= 0 && orifices.NarrowedAt > orifices.NarrowsFrom && double.IsFinite(orifices.NarrowedAt)))
            return new Refusal("METERING_SPEEDS", "The speeds at which the second orifice narrows do not go together.", "The second must be above the first.");
        return new MeteringValve(orifices, Band.Through(at => at[0] / at[1] * 1000, springNewtons, spoolEndSquareMillimetres), density);
    }

    /// <summary>Up to the speed at which the second orifice begins to narrow, L/min.</summary>
    public Band AtLowSpeed => RegulatedAt(Orifices.NarrowsFrom);

    /// <summary>From the speed at which it has narrowed, L/min.</summary>
    public Band AtHighSpeed => RegulatedAt(Orifices.NarrowedAt);

    /// <summary>What the valve lets out at a speed if the pump gives as much, L/min.</summary>
    public Band RegulatedAt(double revolutionsPerMinute) => Band.Through(at => Regulated(at, revolutionsPerMinute), Inputs);

    /// <summary>
    /// What goes out at a speed, L/min: the lesser of what the pump gives and what the valve lets out, as an interval over all inputs.
    /// </summary>
    public Band FlowAt(double revolutionsPerMinute, Volume displacement, Band volumetricEfficiency) => Band.Through(
        at => Math.Min(PumpFlow.LitresPerMinute(displacement, revolutionsPerMinute, at[^1]), Regulated(at, revolutionsPerMinute)), [.. Inputs, volumetricEfficiency]);

    /// <summary>
    /// Flow over speed from standstill, at even steps and at every bend: where regulation begins, by the values and by the ends of the bands, and where the
    /// second orifice begins and ends to narrow.
    /// </summary>
    /// <param name="mostRevolutionsPerMinute">Above zero.</param>
    /// <param name="steps">1 or more.</param>
    public IReadOnlyList<ExpectedFlow> Curve(double mostRevolutionsPerMinute, int steps, Volume displacement, Band volumetricEfficiency)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(mostRevolutionsPerMinute);
        ArgumentOutOfRangeException.ThrowIfLessThan(steps, 1);
        var perRevolution = PumpFlow.LitresPerMinute(displacement, 1);
        double[] bends = perRevolution <= 0 || volumetricEfficiency.Low <= 0 ? [] :
        [
            AtLowSpeed.Low / (perRevolution * volumetricEfficiency.Low), AtLowSpeed.Value / (perRevolution * volumetricEfficiency.Value),
            AtLowSpeed.High / (perRevolution * volumetricEfficiency.High), Orifices.NarrowsFrom, Orifices.NarrowedAt,
        ];
        return [.. Enumerable.Range(0, steps + 1).Select(step => mostRevolutionsPerMinute * step / steps).Concat(bends.Where(speed => speed < mostRevolutionsPerMinute))
            .Distinct().Order().Select(speed => (Speed: speed, Flow: FlowAt(speed, displacement, volumetricEfficiency)))
            .Select(point => new ExpectedFlow(point.Speed, point.Flow.Value, point.Flow.Low, point.Flow.High))];
    }

    private IReadOnlyList<Band> Inputs =>
        [Orifices.DischargeCoefficient, Orifices.FixedSquareMillimetres, Orifices.OpenSquareMillimetres, Orifices.NarrowedSquareMillimetres, DropKilopascals, Density];

    private double Regulated(IReadOnlyList<double> at, double revolutionsPerMinute)
    {
        var narrowed = Math.Clamp((revolutionsPerMinute - Orifices.NarrowsFrom) / (Orifices.NarrowedAt - Orifices.NarrowsFrom), 0, 1);
        return Orifice.LitresPerMinute(at[0], at[1] + at[2] + (narrowed * (at[3] - at[2])), at[4], at[5]);
    }
}

/// <summary>The two orifices of a two-stage metering valve.</summary>
/// <param name="DischargeCoefficient">Of both; see <see cref="Orifice.SharpEdged"/>.</param>
/// <param name="OpenSquareMillimetres">The second one while nothing narrows it.</param>
/// <param name="NarrowedSquareMillimetres">The second one at high speed; zero where it is shut.</param>
/// <param name="NarrowsFrom">rev/min.</param>
/// <param name="NarrowedAt">rev/min; above the former.</param>
public sealed record MeteringOrifices(
    Band DischargeCoefficient, Band FixedSquareMillimetres, Band OpenSquareMillimetres, Band NarrowedSquareMillimetres, double NarrowsFrom, double NarrowedAt);
