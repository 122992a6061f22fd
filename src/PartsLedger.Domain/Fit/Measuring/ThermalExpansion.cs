using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>
/// How much a metal grows with heat: a length at T is its length at 20 °C times 1 + α (T − 20). Temperatures are in thousandths of a
/// degree Celsius. The arithmetic is exact; what comes out is rounded once to whole nanometres, half away from zero.
/// <para>
/// 20 °C is the reference temperature of ISO 1. Steel 11.5e-6 per K is also the value of GUM (JCGM 100) example H.1; cast iron 10.5e-6 and
/// aluminium 23e-6 are handbook values. Handbook values are averages from 20 to 100 °C and run a few percent high near 20 °C; three percent
/// of 10.5e-6 over 5 K on 16 mm is 25 nm, well inside any gauge the shop has.
/// </para>
/// </summary>
public readonly record struct ThermalExpansion
{
    /// <summary>20 °C, where sizes are compared.</summary>
    public const int ReferenceMilliCelsius = 20_000;

    /// <summary>Colder or hotter than this is no working temperature of a pump, so a caller that gives it has a bug.</summary>
    public const int ColdestMilliCelsius = -60_000;

    /// <inheritdoc cref="ColdestMilliCelsius"/>
    public const int HottestMilliCelsius = 250_000;

    /// <summary>100e-6 per K: above every metal.</summary>
    public const long LargestPerBillion = 100_000;

    /// <summary>A billionth per kelvin times a thousandth of a kelvin.</summary>
    private const long Scale = 1_000_000_000_000;

    private ThermalExpansion(long perBillion) => PerBillion = perBillion;

    public static ThermalExpansion Steel { get; } = new(11_500);
    public static ThermalExpansion CastIron { get; } = new(10_500);
    public static ThermalExpansion Aluminium { get; } = new(23_000);

    /// <summary>α in billionths per kelvin: 11.5e-6 per K is 11 500.</summary>
    public long PerBillion { get; }

    /// <summary>What a family states of its own: 0 to 100e-6 per K; finer than a billionth is rounded half away from zero.</summary>
    public static Outcome<ThermalExpansion> FromPerKelvin(decimal alpha)
    {
        if (alpha is < 0 or > LargestPerBillion / 1_000_000_000m)
            return new Refusal("EXPANSION_RANGE", $"{alpha} per K is no metal's expansion.", "Give it per kelvin, such as 0.0000115 for steel.");
        return new ThermalExpansion((long)decimal.Round(alpha * 1_000_000_000m, MidpointRounding.AwayFromZero));
    }

    /// <summary>By the material's name, without regard to case; <c>cast iron</c> and <c>cast-iron</c> are the same.</summary>
    public static Outcome<ThermalExpansion> Of(string? material) => (material ?? "").Trim().Replace('-', ' ').ToUpperInvariant() switch
    {
        "STEEL" => Steel,
        "CAST IRON" => CastIron,
        "ALUMINIUM" or "ALUMINUM" => Aluminium,
        "" => new Refusal("MATERIAL_MISSING", "What it is made of is not known, so its size at 20 °C cannot be told.", "Give the family's materials."),
        _ => new Refusal("MATERIAL_UNKNOWN", $"How '{material}' grows with heat is not known.",
            "Use steel, cast iron or aluminium, or give the family its own expansion per kelvin."),
    };

    /// <summary>The size at 20 °C of what measures <paramref name="length"/> at a temperature: d20 = dT / (1 + α (T − 20)).</summary>
    public Length At20(Length length, int milliCelsius) => MeanAt20(length.Nanometres, 1, milliCelsius);

    /// <summary>The size at a temperature of what measures <paramref name="length"/> at 20 °C: dT = d20 (1 + α (T − 20)).</summary>
    public Length At(Length length, int milliCelsius) => WholeNanometres.Of(length.Nanometres * Growth(milliCelsius), Scale);

    /// <summary>The size at one temperature of what was measured at another, rounded once.</summary>
    public Length Moved(Length length, int fromMilliCelsius, int toMilliCelsius) =>
        WholeNanometres.Of(length.Nanometres * Growth(toMilliCelsius), Growth(fromMilliCelsius));

    /// <summary>
    /// Bore minus spool at a working temperature, both given at 20 °C and each growing after its own metal; rounded once. An aluminium housing
    /// opens around a steel valve when warm, a cast-iron one closes a little.
    /// </summary>
    public static Length ClearanceAt(int milliCelsius, Length bore20, ThermalExpansion housing, Length spool20, ThermalExpansion valve) =>
        WholeNanometres.Of((bore20.Nanometres * housing.Growth(milliCelsius)) - (spool20.Nanometres * valve.Growth(milliCelsius)), Scale);

    /// <summary>The mean, at 20 °C, of <paramref name="count"/> lengths with this sum; rounded once.</summary>
    internal Length MeanAt20(Int128 sumOfNanometres, int count, int milliCelsius) =>
        WholeNanometres.Of(sumOfNanometres * Scale, Growth(milliCelsius) * count);

    /// <summary>1 + α (T − 20), times <see cref="Scale"/>; above zero within the temperatures allowed.</summary>
    private Int128 Growth(int milliCelsius)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(milliCelsius, ColdestMilliCelsius);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(milliCelsius, HottestMilliCelsius);
        return Scale + (PerBillion * (milliCelsius - ReferenceMilliCelsius));
    }
}
