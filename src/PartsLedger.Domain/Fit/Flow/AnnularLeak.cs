using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Flow;

/// <summary>The gap between a spool's land and its bore.</summary>
/// <param name="DiametralClearanceMicrometres">Bore minus spool: the diametral clearance, as it is measured. The radial one is half of it.</param>
/// <param name="Eccentricity">0 for a spool in the middle, 1 for one that lies against the bore. Where it lies nobody knows, so 0 to 1 is the honest band.</param>
public sealed record AnnularGap(Band DiameterMillimetres, Band DiametralClearanceMicrometres, Band LandLengthMillimetres, Band Eccentricity);

/// <summary>
/// Laminar leakage through an annular gap: Q = π D h³ Δp / (12 µ L) × (1 + 1.5 ε²), h the radial clearance. Source: Rabie, Fluid Power
/// Engineering, eq. 2.19 (the concentric part, where c is the radial clearance); the eccentric factor is the mean of (1 + ε cos t)³ over the
/// circle, 2.5 at most. It holds while the flow is laminar (Reynolds number on the gap below about 1 400), the gap is thin (a hundredth of the
/// diameter) and the land long (fifty gaps); oil that warms by its own shear leaks a little more (7 MPa warm it by some 4 K).
/// </summary>
/// <param name="MillilitresPerMinute">With the band that the inputs' bands leave, as an interval.</param>
/// <param name="Reynolds">ρ V h / µ, the greatest within the bands.</param>
/// <param name="Doubts">Sentences on where the formula is beyond what it holds for; none where it holds.</param>
public sealed record AnnularLeak(Band MillilitresPerMinute, double Reynolds, IReadOnlyList<string> Doubts)
{
    public const double LaminarBelow = 1_400;
    public const double ThinBelow = 0.01;
    public const double LongFrom = 50;

    /// <summary>mm³/s; the clearance is the radial one. Put in the diametral one, it gives eight times the flow.</summary>
    /// <param name="viscosity">Pa·s.</param>
    public static double CubicMillimetresPerSecond(
        double diameterMillimetres, double radialMillimetres, double landMillimetres, double dropMegapascals, double viscosity, double eccentricity) =>
        Math.PI * diameterMillimetres * Math.Pow(radialMillimetres, 3) * dropMegapascals / (12 * viscosity * 1e-6 * landMillimetres)
        * (1 + (1.5 * eccentricity * eccentricity));

    /// <summary>Refusals: <c>INPUT_NOT_POSITIVE</c>, <c>ECCENTRICITY_RANGE</c>.</summary>
    /// <param name="viscosity">Pa·s; see <see cref="HydraulicOil.DynamicViscosity(Band, double)"/>.</param>
    /// <param name="density">kg/m³, for the Reynolds number alone.</param>
    public static Outcome<AnnularLeak> Of(AnnularGap gap, Band dropMegapascals, Band viscosity, double density)
    {
        if (Band.AllPositive(("diameter, mm,", gap.DiameterMillimetres), ("clearance, µm,", gap.DiametralClearanceMicrometres),
            ("land length, mm,", gap.LandLengthMillimetres), ("pressure drop, MPa,", dropMegapascals), ("viscosity, Pa·s,", viscosity),
            ("density, kg/m³,", Band.Exactly(density))) is { } refusal) return refusal;
        if (gap.Eccentricity.Low < 0 || gap.Eccentricity.High > 1)
            return new Refusal("ECCENTRICITY_RANGE", $"An eccentricity of {gap.Eccentricity} cannot be.", "Give 0 (in the middle) to 1 (against the bore).");

        var flow = Band.Through(at => CubicMillimetresPerSecond(at[0], Radial(at[1]), at[2], at[3], at[4], at[5]) * 60 / 1000,
            gap.DiameterMillimetres, gap.DiametralClearanceMicrometres, gap.LandLengthMillimetres, dropMegapascals, viscosity, gap.Eccentricity);

        // Q over the gap's area is V, so that ρ V h / µ is ρ Q / (π D µ): the gap itself drops out. Millimetres and Pa·s make it 1e-3.
        var reynolds = density * (flow.High * 1000 / 60) / (Math.PI * gap.DiameterMillimetres.Low * viscosity.Low) * 1e-6;
        return new AnnularLeak(flow, reynolds, [.. DoubtsOf(gap, reynolds)]);
    }

    /// <summary>What share of the pump's flow leaks, 0 to 1 where it is less than all; at idle, where the pump gives least.</summary>
    /// <param name="pumpLitresPerMinute">Above zero throughout.</param>
    public Band ShareOf(Band pumpLitresPerMinute) => Band.Through(at => at[0] / 1000 / at[1], MillilitresPerMinute, pumpLitresPerMinute);

    private static double Radial(double diametralMicrometres) => diametralMicrometres / 2 / 1000;

    private static IEnumerable<string> DoubtsOf(AnnularGap gap, double reynolds)
    {
        var radial = Radial(gap.DiametralClearanceMicrometres.High);
        if (reynolds >= LaminarBelow) yield return $"The flow may not be laminar (Reynolds number {reynolds:0}); it is then less than reckoned.";
        if (radial / gap.DiameterMillimetres.Low >= ThinBelow) yield return "The gap is not thin against the diameter; the formula is a rough guide.";
        if (gap.LandLengthMillimetres.Low / radial < LongFrom) yield return "The land is short against the gap, and its ends hold the flow back too; it is then less than reckoned.";
    }
}
