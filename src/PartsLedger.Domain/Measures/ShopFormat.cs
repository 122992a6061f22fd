namespace PartsLedger.Domain.Measures;

/// <summary>
/// How a shop reads and writes sizes, numbers and money on its pages and papers. What is kept, and what programs ask and answer, stays as it is.
/// </summary>
public sealed record ShopFormat
{
    /// <summary>What a shop has that never chose.</summary>
    public static ShopFormat Usual { get; } = new();

    public ShopUnit LengthUnit { get; init; } = ShopUnits.Millimetre;
    public ShopUnit PressureUnit { get; init; } = ShopUnits.Bar;
    public ShopUnit FlowUnit { get; init; } = ShopUnits.LitrePerMinute;
    public ShopUnit TemperatureUnit { get; init; } = ShopUnits.Celsius;
    public NumberSigns Numbers { get; init; } = NumberSigns.Usual;
    public CurrencySign Currency { get; init; } = CurrencySign.None;

    public string Of(decimal number) => Numbers.Write(number, "0.######");

    public string Of(Quantity quantity) => Numbers.Write(quantity.ToDecimal(), "0.###");

    /// <summary>An amount with the shop's sign; at least two decimals.</summary>
    public string Of(Money money) => Currency.Around(Bare(money));

    /// <summary>An amount without the sign, for a field.</summary>
    public string Bare(Money money) => Numbers.Write(money.ToDecimal(), "0.00##");

    /// <summary>A size to the nanometre: what is read back is the same.</summary>
    public string Of(Length length) => Written(length.Nanometres, LengthUnit);

    /// <summary>A clearance or a form error: micrometres in a shop that measures in millimetres, to a millionth of an inch in one that does not.</summary>
    public string Small(decimal micrometres) => LengthUnit == ShopUnits.Millimetre ? $"{Numbers.Write(micrometres, "0.###")} µm"
        : $"{Numbers.Write(micrometres * Length.NanometresPerMicrometre / Length.NanometresPerInch, "0.000000")} in";

    /// <summary>A pressure, with nothing between its thousands: 1.015 psi is a thousand to one reader and one to another.</summary>
    public string Of(Pressure pressure) => Written(pressure, PressureUnit);

    /// <summary>
    /// A pressure that safety hangs on: in the shop's unit, and beside it in the contract's kilopascals; where that is the same figure with
    /// other zeros, in the other unit that gauges show.
    /// </summary>
    public string Twice(Pressure pressure)
    {
        var beside = PressureUnit == ShopUnits.Bar ? ShopUnits.Psi : PressureUnit == ShopUnits.Kilopascal ? ShopUnits.Bar : ShopUnits.Kilopascal;
        return $"{Of(pressure)} ({Written(pressure, beside)})";
    }

    /// <summary>A flow, without its unit; a bound that there is not is any.</summary>
    public string Flow(double litresPerMinute) => Math.Abs(litresPerMinute) < 1e9 ? Numbers.Write(FlowUnit.FromGrains((decimal)litresPerMinute * 1_000_000), FlowUnit.Format) : "any";

    public string Temperature(decimal celsius) =>
        $"{Numbers.Write(TemperatureUnit == ShopUnits.Fahrenheit ? (celsius * 9 / 5) + 32 : celsius, TemperatureUnit.Format)} {TemperatureUnit.Name}";

    private string Written(Pressure pressure, ShopUnit unit) =>
        $"{(Numbers with { Group = "" }).Write(unit.FromGrains(pressure.Pascals), unit.Format)} {unit.Name}";

    private string Written(decimal grains, ShopUnit unit) => $"{Numbers.Write(unit.FromGrains(grains), unit.Format)} {unit.Name}";
}

/// <summary>A unit that a shop may choose.</summary>
/// <param name="Word">How it is chosen.</param>
/// <param name="Name">How it stands behind a figure.</param>
/// <param name="Unit">What it is exactly.</param>
/// <param name="Format">How many decimals say something in it.</param>
public sealed record ShopUnit(string Word, string Name, MeasureUnit Unit, string Format)
{
    /// <summary>
    /// Reads a size in this unit, or in the one that stands behind it, rounded to the grain: a figure out of a gauge is not exact, and one
    /// that was written here comes back as it was.
    /// </summary>
    /// <param name="plain">Numbers written plainly: see <see cref="NumberSigns.Plain"/>.</param>
    public bool TryRead(string plain, IReadOnlyList<MeasureUnit> known, out long grains) => MeasureReader.TryRead(plain, Rounded(Unit), [.. known.Select(Rounded)], out grains, out _);

    // The same fraction, with a denominator that says so.
    private static MeasureUnit Rounded(MeasureUnit unit) => unit with { GrainsNumerator = unit.GrainsNumerator * 2, GrainsDenominator = unit.GrainsDenominator * 2 };

    public decimal FromGrains(decimal grains) => decimal.Round(grains * Unit.GrainsDenominator / Unit.GrainsNumerator, Format.Length - Format.IndexOf('.', StringComparison.Ordinal) - 1, MidpointRounding.AwayFromZero);
}

/// <summary>The units that shops may choose between.</summary>
public static class ShopUnits
{
    public static ShopUnit Millimetre { get; } = new("mm", "mm", LengthUnits.Millimetre, "0.######");

    /// <summary>A hundred-millionth of an inch is a quarter of a nanometre: no nanometre is lost.</summary>
    public static ShopUnit Inch { get; } = new("in", "in", LengthUnits.Inch, "0.########");

    public static ShopUnit Bar { get; } = new("bar", "bar", PressureUnits.Bar, "0.##");
    public static ShopUnit Kilopascal { get; } = new("kpa", "kPa", PressureUnits.Kilopascal, "0.#");
    public static ShopUnit Megapascal { get; } = new("mpa", "MPa", PressureUnits.Megapascal, "0.###");
    public static ShopUnit Psi { get; } = new("psi", "psi", PressureUnits.Psi, "0.");
    public static ShopUnit LitrePerMinute { get; } = new("lpm", "l/min", FlowUnits.LitrePerMinute, "0.##");
    public static ShopUnit GallonPerMinute { get; } = new("gpm", "US gal/min", FlowUnits.GallonPerMinute, "0.##");
    public static ShopUnit Celsius { get; } = new("c", "°C", TemperatureUnits.Celsius, "0.#");
    public static ShopUnit Fahrenheit { get; } = new("f", "°F", TemperatureUnits.Fahrenheit, "0.#");

    public static IReadOnlyList<ShopUnit> Lengths { get; } = [Millimetre, Inch];
    public static IReadOnlyList<ShopUnit> Pressures { get; } = [Bar, Kilopascal, Megapascal, Psi];
    public static IReadOnlyList<ShopUnit> Flows { get; } = [LitrePerMinute, GallonPerMinute];
    public static IReadOnlyList<ShopUnit> Temperatures { get; } = [Celsius, Fahrenheit];
}

/// <summary>The currency's sign or letters and where they stand: what comes before an amount, and what behind it.</summary>
public sealed record CurrencySign(string Before, string Behind)
{
    /// <summary>Stands for the amount where a shop says how it writes one.</summary>
    public const char Amount = '#';

    public static CurrencySign None { get; } = new("", "");

    public string Around(string amount) => $"{Before}{amount}{Behind}";

    /// <summary>What is left of an amount that was typed with the sign.</summary>
    public string Without(string typed)
    {
        var (before, behind, amount) = (Before.Trim(), Behind.Trim(), typed.Trim());
        if (before.Length > 0 && amount.StartsWith(before, StringComparison.OrdinalIgnoreCase)) amount = amount[before.Length..];
        if (behind.Length > 0 && amount.EndsWith(behind, StringComparison.OrdinalIgnoreCase)) amount = amount[..^behind.Length];
        return amount.Trim();
    }

    /// <summary>The label of a field that takes an amount.</summary>
    public string Named(string label) => this == None ? label : $"{label}, {(Before + Behind).Trim()}";
}
