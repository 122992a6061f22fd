using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Flow;

/// <summary>
/// An oil by its viscosity at two temperatures and its density at 15 °C. Between and around the two, viscosity follows Walther's equation as in
/// ASTM D341: log log (ν + 0.7) falls in a straight line over log T, with ν in mm²/s (cSt) and T in kelvin; good for a mineral oil from 2 mm²/s
/// upwards, away from its pour point. Density falls by 7e-4 of itself at 15 °C per kelvin. What pressure does to either is left out: at
/// 10 MPa viscosity is some 20 percent higher (a rule from memory), so that leakage is rather over- than understated.
/// </summary>
public sealed class HydraulicOil
{
    /// <summary>Per kelvin, of the density at 15 °C: 200 L warmed by 50 K grow by about 7 L (en.oelcheck.com/wiki/dichte-temperatur-profil-dtp).</summary>
    public const double DensityFallPerKelvin = 7e-4;

    /// <summary>No oil in a pump is colder or hotter; asking for more is refused by <see cref="Refused"/>.</summary>
    public const double ColdestCelsius = -40;

    /// <inheritdoc cref="ColdestCelsius"/>
    public const double HottestCelsius = 150;

    private const double Kelvin = 273.15;

    /// <summary>
    /// ISO VG grades: mid-point at 40 °C, its limits 10 percent either way, and a typical value at 100 °C for a mineral oil with a viscosity index of
    /// about 100 (the latter from memory, to be replaced by the oil's own data sheet).
    /// </summary>
    private static readonly Dictionary<int, double> TypicalAt100 = new() { [22] = 4.3, [32] = 5.4, [46] = 6.8, [68] = 8.7, [100] = 11.3 };

    private readonly double _intercept;
    private readonly double _slope;

    private HydraulicOil(double celsius1, double viscosity1, double celsius2, double viscosity2, double density15)
    {
        _slope = (DoubleLog(viscosity1) - DoubleLog(viscosity2)) / (Math.Log10(celsius2 + Kelvin) - Math.Log10(celsius1 + Kelvin));
        _intercept = DoubleLog(viscosity1) + (_slope * Math.Log10(celsius1 + Kelvin));
        DensityAt15 = density15;
    }

    /// <summary>kg/m³.</summary>
    public double DensityAt15 { get; }

    /// <summary>Refusal <c>OIL_POINTS</c>: viscosities in mm²/s from 2 up and falling with temperature, density from 700 to 1200 kg/m³.</summary>
    public static Outcome<HydraulicOil> Of(double celsius1, double viscosity1, double celsius2, double viscosity2, double density15)
    {
        if (celsius1 > celsius2) (celsius1, viscosity1, celsius2, viscosity2) = (celsius2, viscosity2, celsius1, viscosity1);
        return celsius1 >= ColdestCelsius && celsius2 <= HottestCelsius && celsius2 - celsius1 >= 10 && viscosity2 >= 2 && viscosity1 > viscosity2
            && viscosity1 <= 100_000 && density15 is >= 700 and <= 1_200
            ? new HydraulicOil(celsius1, viscosity1, celsius2, viscosity2, density15)
            : new Refusal("OIL_POINTS", "These two viscosities and this density are no oil's.",
                "Give mm²/s (cSt), 2 at least, at two temperatures 10 K apart or more, and the density at 15 °C in kg/m³.");
    }

    /// <summary>A typical mineral oil of an ISO VG grade, viscosity index about 100; refusal <c>OIL_GRADE</c>.</summary>
    public static Outcome<HydraulicOil> OfGrade(int grade, double density15 = 870) => TypicalAt100.TryGetValue(grade, out var at100)
        ? Of(40, grade, 100, at100, density15)
        : new Refusal("OIL_GRADE", $"ISO VG {grade} is not known here.", $"Use {string.Join(", ", TypicalAt100.Keys)}, or give the oil's two viscosities.");

    /// <summary>mm²/s at 40 °C within which an oil is of the grade: 10 percent either way (ISO 3448, as copied in a summary of ASTM D2422).</summary>
    public static Band GradeLimits(int grade) => Band.Percent(grade, 10);

    /// <summary>Refusal <c>OIL_TEMPERATURE</c> outside −40 to 150 °C.</summary>
    public static Refusal? Refused(Band celsius) => celsius.Low >= ColdestCelsius && celsius.High <= HottestCelsius ? null
        : new Refusal("OIL_TEMPERATURE", $"{celsius} °C is no oil's temperature in a pump.", "Give it in °C, from -40 to 150.");

    /// <summary>mm²/s.</summary>
    public double KinematicViscosity(double celsius) => Math.Pow(10, Math.Pow(10, _intercept - (_slope * Math.Log10(celsius + Kelvin)))) - 0.7;

    /// <summary>kg/m³: ρ15 (1 − 7e-4 (T − 15)).</summary>
    public double Density(double celsius) => DensityAt15 * (1 - (DensityFallPerKelvin * (celsius - 15)));

    /// <summary>Pa·s: kinematic viscosity times density.</summary>
    public double DynamicViscosity(double celsius) => KinematicViscosity(celsius) * 1e-6 * Density(celsius);

    /// <param name="gradePercent">How far the oil itself may be from what is stated; 10 for a grade alone.</param>
    public Band DynamicViscosity(Band celsius, double gradePercent) =>
        Band.Through(at => DynamicViscosity(at[0]) * at[1], celsius, Band.Percent(1, gradePercent));

    private static double DoubleLog(double viscosity) => Math.Log10(Math.Log10(viscosity + 0.7));
}
