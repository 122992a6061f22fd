namespace PartsLedger.Domain.Fit.Flow;

/// <summary>
/// Turbulent flow through an orifice: Q = Cd A √(2 Δp / ρ). Cd of a sharp edge is 0.60 to 0.65, 0.62 as a rule; of a short tube about 0.80
/// (engineering.wikia.com/wiki/Orifice_equation; calculatorcollection.org, orifice flow discharge). It is steady while the Reynolds number on the
/// bore is above some thousands (from memory); with cold oil in a small bore it falls, and so does the flow.
/// </summary>
public static class Orifice
{
    public static Band SharpEdged { get; } = Band.Between(0.60, 0.65, 0.62);

    /// <summary>Below this the formula overstates the flow (from memory).</summary>
    public const double SteadyFromReynolds = 4_000;

    /// <param name="density">kg/m³.</param>
    public static double LitresPerMinute(double dischargeCoefficient, double areaSquareMillimetres, double dropKilopascals, double density) =>
        dischargeCoefficient * areaSquareMillimetres * 1e-6 * Math.Sqrt(2 * dropKilopascals * 1000 / density) * 60_000;

    /// <summary>The area that lets a flow through at a pressure drop, mm²: the reverse.</summary>
    public static double SquareMillimetres(double dischargeCoefficient, double litresPerMinute, double dropKilopascals, double density) =>
        litresPerMinute / LitresPerMinute(dischargeCoefficient, 1, dropKilopascals, density);

    /// <summary>As an interval; all above zero.</summary>
    public static Band LitresPerMinute(Band dischargeCoefficient, Band areaSquareMillimetres, Band dropKilopascals, Band density) =>
        Band.Through(at => LitresPerMinute(at[0], at[1], at[2], at[3]), dischargeCoefficient, areaSquareMillimetres, dropKilopascals, density);

    /// <summary>v d / ν on the bore.</summary>
    /// <param name="kinematicViscosity">mm²/s.</param>
    public static double Reynolds(double litresPerMinute, double diameterMillimetres, double kinematicViscosity) =>
        4 * litresPerMinute * 1e6 / 60 / (Math.PI * diameterMillimetres * kinematicViscosity);
}
