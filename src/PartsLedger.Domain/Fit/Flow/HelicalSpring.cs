namespace PartsLedger.Domain.Fit.Flow;

/// <summary>
/// A helical compression spring of round wire: k = G d⁴ / (8 D³ N), D the mean coil diameter and N the active coils (the ground ends do not
/// count). Source: Bhandari, Design of Machine Elements, chapter 10. Holds for a spring index D/d from about 4 to 12 and short of its solid length.
/// </summary>
public static class HelicalSpring
{
    /// <summary>N/mm.</summary>
    /// <param name="shearModulus">N/mm² (MPa); 81 370 for the steel of the book's examples.</param>
    public static double NewtonsPerMillimetre(double shearModulus, double wireMillimetres, double coilMillimetres, double activeCoils) =>
        shearModulus * Math.Pow(wireMillimetres, 4) / (8 * Math.Pow(coilMillimetres, 3) * activeCoils);

    /// <summary>N/mm, as an interval: the wire's tenth of a percent is four tenths of the rate. All above zero.</summary>
    public static Band NewtonsPerMillimetre(Band shearModulus, Band wireMillimetres, Band coilMillimetres, Band activeCoils) =>
        Band.Through(at => NewtonsPerMillimetre(at[0], at[1], at[2], at[3]), shearModulus, wireMillimetres, coilMillimetres, activeCoils);
}
