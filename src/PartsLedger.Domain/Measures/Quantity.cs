using System.Globalization;

namespace PartsLedger.Domain.Measures;

/// <summary>
/// How many, or how much, of something in the part's own unit (pieces, litres, metres), in whole thousandths.
/// May be negative (a ledger line that takes away). Default: <see cref="Zero"/>.
/// </summary>
public readonly record struct Quantity : IComparable<Quantity>
{
    /// <summary>Thousandths in one whole.</summary>
    public const long PerWhole = 1000;

    private Quantity(long thousandths) => Thousandths = thousandths;

    public static Quantity Zero => default;

    /// <summary>The quantity in thousandths: 12 rollers are 12 000.</summary>
    public long Thousandths { get; }

    public static Quantity FromThousandths(long thousandths) => new(thousandths);

    /// <exception cref="OverflowException">More than about 9.2e15 pieces.</exception>
    public static Quantity FromWhole(long pieces) => new(checked(pieces * PerWhole));

    public bool IsWhole => Thousandths % PerWhole == 0;

    /// <summary>Whole pieces contained in this quantity: 2.7 litres hold 2 whole ones. Not for negative quantities.</summary>
    public long WholeFloor => Math.DivRem(Thousandths, PerWhole).Quotient;

    public static Quantity operator +(Quantity left, Quantity right) => new(checked(left.Thousandths + right.Thousandths));
    public static Quantity operator -(Quantity left, Quantity right) => new(checked(left.Thousandths - right.Thousandths));
    public static Quantity operator -(Quantity quantity) => new(checked(-quantity.Thousandths));

    /// <summary>Quantities multiply along a supersession chain or through nested packs: 2 sets of 3 are 6.</summary>
    /// <exception cref="OverflowException">The product does not fit.</exception>
    /// <remarks>The product of two thousandths has a millionth; it is rounded half away from zero to the thousandth.</remarks>
    public static Quantity operator *(Quantity left, Quantity right)
    {
        var product = (Int128)left.Thousandths * right.Thousandths;
        var (quotient, remainder) = Int128.DivRem(product, PerWhole);
        if (Int128.Abs(remainder) * 2 >= PerWhole) quotient += Int128.Sign(product);
        return new(checked((long)quotient));
    }

    public static Quantity operator *(Quantity quantity, long times) => new(checked(quantity.Thousandths * times));

    public static bool operator <(Quantity left, Quantity right) => left.Thousandths < right.Thousandths;
    public static bool operator >(Quantity left, Quantity right) => left.Thousandths > right.Thousandths;
    public static bool operator <=(Quantity left, Quantity right) => left.Thousandths <= right.Thousandths;
    public static bool operator >=(Quantity left, Quantity right) => left.Thousandths >= right.Thousandths;

    public static Quantity Min(Quantity left, Quantity right) => left <= right ? left : right;
    public static Quantity Max(Quantity left, Quantity right) => left >= right ? left : right;

    public int CompareTo(Quantity other) => Thousandths.CompareTo(other.Thousandths);

    /// <summary>The quantity as a decimal number, exact.</summary>
    public decimal ToDecimal() => Thousandths / (decimal)PerWhole;

    /// <summary>As people write it, without idle zeros: <c>12</c>, <c>0.95</c>.</summary>
    public override string ToString() => ToDecimal().ToString("0.###", CultureInfo.InvariantCulture);

    /// <summary>Reads <c>12</c>, <c>0.95</c> or <c>-3</c>; false when it is no number, finer than a thousandth or too large.</summary>
    public static bool TryParse(string? text, out Quantity quantity)
    {
        quantity = default;
        if (!decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingWhite
                | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var number)) return false;
        if (Math.Abs(number) > long.MaxValue / PerWhole) return false;
        var thousandths = number * PerWhole;
        if (thousandths != decimal.Truncate(thousandths)) return false;
        quantity = new((long)thousandths);
        return true;
    }
}
