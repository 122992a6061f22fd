using System.Globalization;

namespace PartsLedger.Domain.Measures;

/// <summary>
/// An amount in the shop's one currency, in whole ten-thousandths. May be negative. Default: <see cref="Zero"/>.
/// </summary>
public readonly record struct Money : IComparable<Money>
{
    /// <summary>Ten-thousandths in one unit of the currency.</summary>
    public const long PerUnit = 10_000;

    private Money(long tenThousandths) => TenThousandths = tenThousandths;

    public static Money Zero => default;

    /// <summary>The amount in ten-thousandths: 4.80 is 48 000.</summary>
    public long TenThousandths { get; }

    public static Money FromTenThousandths(long tenThousandths) => new(tenThousandths);

    public static Money operator +(Money left, Money right) => new(checked(left.TenThousandths + right.TenThousandths));
    public static Money operator -(Money left, Money right) => new(checked(left.TenThousandths - right.TenThousandths));
    public static Money operator -(Money money) => new(checked(-money.TenThousandths));
    public static Money operator *(Money money, long times) => new(checked(money.TenThousandths * times));

    /// <summary>Price times quantity, rounded half away from zero to the ten-thousandth.</summary>
    /// <exception cref="OverflowException">The product does not fit.</exception>
    public static Money operator *(Money unitPrice, Quantity quantity)
    {
        var product = (Int128)unitPrice.TenThousandths * quantity.Thousandths;
        var (quotient, remainder) = Int128.DivRem(product, Quantity.PerWhole);
        if (Int128.Abs(remainder) * 2 >= Quantity.PerWhole) quotient += Int128.Sign(product);
        return new(checked((long)quotient));
    }

    public static bool operator <(Money left, Money right) => left.TenThousandths < right.TenThousandths;
    public static bool operator >(Money left, Money right) => left.TenThousandths > right.TenThousandths;
    public static bool operator <=(Money left, Money right) => left.TenThousandths <= right.TenThousandths;
    public static bool operator >=(Money left, Money right) => left.TenThousandths >= right.TenThousandths;

    public int CompareTo(Money other) => TenThousandths.CompareTo(other.TenThousandths);

    /// <summary>The amount as a decimal number, exact.</summary>
    public decimal ToDecimal() => TenThousandths / (decimal)PerUnit;

    /// <summary>At least two decimals, more only where they say something: <c>4.80</c>, <c>0.0125</c>.</summary>
    public override string ToString() => ToDecimal().ToString("0.00##", CultureInfo.InvariantCulture);

    /// <summary>Reads <c>4.8</c> or <c>-12.50</c>; false when it is no number, finer than a ten-thousandth or too large.</summary>
    public static bool TryParse(string? text, out Money money)
    {
        money = default;
        if (!decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingWhite
                | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var number)) return false;
        if (Math.Abs(number) > long.MaxValue / PerUnit) return false;
        var scaled = number * PerUnit;
        if (scaled != decimal.Truncate(scaled)) return false;
        money = new((long)scaled);
        return true;
    }
}
