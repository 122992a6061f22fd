namespace PartsLedger.Domain.Measures;

/// <summary>
/// A length or a difference of lengths, in whole nanometres; 1/64 in is exactly 396 875 nm. May be negative (an interference).
/// Default: <see cref="Zero"/>.
/// </summary>
public readonly record struct Length : IComparable<Length>
{
    public const long NanometresPerMicrometre = 1_000;
    public const long NanometresPerMillimetre = 1_000_000;

    /// <summary>Exact by definition of the inch, 25.4 mm.</summary>
    public const long NanometresPerInch = 25_400_000;

    private Length(long nanometres) => Nanometres = nanometres;

    public static Length Zero => default;

    public long Nanometres { get; }

    public static Length FromNanometres(long nanometres) => new(nanometres);

    public static Length operator +(Length left, Length right) => new(checked(left.Nanometres + right.Nanometres));
    public static Length operator -(Length left, Length right) => new(checked(left.Nanometres - right.Nanometres));
    public static bool operator <(Length left, Length right) => left.Nanometres < right.Nanometres;
    public static bool operator >(Length left, Length right) => left.Nanometres > right.Nanometres;
    public static bool operator <=(Length left, Length right) => left.Nanometres <= right.Nanometres;
    public static bool operator >=(Length left, Length right) => left.Nanometres >= right.Nanometres;

    public int CompareTo(Length other) => Nanometres.CompareTo(other.Nanometres);

    public decimal ToMicrometres() => Nanometres / (decimal)NanometresPerMicrometre;

    public decimal ToMillimetres() => Nanometres / (decimal)NanometresPerMillimetre;
}
