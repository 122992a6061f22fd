namespace PartsLedger.Domain.Measures;

/// <summary>A gauge pressure or a difference of pressures, in whole pascals. May be negative. Default: <see cref="Zero"/>.</summary>
public readonly record struct Pressure : IComparable<Pressure>
{
    public const long PascalsPerKilopascal = 1_000;
    public const long PascalsPerBar = 100_000;
    public const long PascalsPerMegapascal = 1_000_000;

    /// <summary>One pound-force per square inch: 4.4482216152605 N over (25.4 mm)², which is this fraction exactly.</summary>
    public const decimal PascalsPerPsi = 8_896_443_230_521m / 1_290_320_000m;

    private Pressure(long pascals) => Pascals = pascals;

    public static Pressure Zero => default;

    public long Pascals { get; }

    public static Pressure FromPascals(long pascals) => new(pascals);

    public static Pressure operator +(Pressure left, Pressure right) => new(checked(left.Pascals + right.Pascals));
    public static Pressure operator -(Pressure left, Pressure right) => new(checked(left.Pascals - right.Pascals));
    public static bool operator <(Pressure left, Pressure right) => left.Pascals < right.Pascals;
    public static bool operator >(Pressure left, Pressure right) => left.Pascals > right.Pascals;
    public static bool operator <=(Pressure left, Pressure right) => left.Pascals <= right.Pascals;
    public static bool operator >=(Pressure left, Pressure right) => left.Pascals >= right.Pascals;

    public int CompareTo(Pressure other) => Pascals.CompareTo(other.Pascals);

    public decimal ToKilopascals() => Pascals / (decimal)PascalsPerKilopascal;

    public decimal ToPsi() => Pascals / PascalsPerPsi;
}
