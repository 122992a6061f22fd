namespace PartsLedger.Domain.Measures;

/// <summary>
/// A volume in whole microlitres; a pump's displacement is the volume of one revolution (1 cc/rev is 1 000). Zero or more.
/// Default: <see cref="Zero"/>.
/// </summary>
public readonly record struct Volume : IComparable<Volume>
{
    public const long MicrolitresPerCubicCentimetre = 1_000;

    private Volume(long microlitres) => Microlitres = microlitres;

    public static Volume Zero => default;

    public long Microlitres { get; }

    /// <exception cref="ArgumentOutOfRangeException"><paramref name="microlitres"/> is below zero.</exception>
    public static Volume FromMicrolitres(long microlitres)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(microlitres);
        return new(microlitres);
    }

    public static bool operator <(Volume left, Volume right) => left.Microlitres < right.Microlitres;
    public static bool operator >(Volume left, Volume right) => left.Microlitres > right.Microlitres;
    public static bool operator <=(Volume left, Volume right) => left.Microlitres <= right.Microlitres;
    public static bool operator >=(Volume left, Volume right) => left.Microlitres >= right.Microlitres;

    public int CompareTo(Volume other) => Microlitres.CompareTo(other.Microlitres);

    public decimal ToCubicCentimetres() => Microlitres / (decimal)MicrolitresPerCubicCentimetre;
}
