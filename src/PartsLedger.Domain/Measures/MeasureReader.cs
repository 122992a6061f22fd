using System.Buffers;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Numerics;

namespace PartsLedger.Domain.Measures;

/// <summary>
/// Reads a measure as people write it: <c>15.875</c>, <c>3/16</c>, <c>1 3/16</c>, with or without a unit behind it (<c>15.875 mm</c>,
/// <c>0.6250"</c>, <c>900 psi</c>). A unit written with the number wins over the one given with the call, which is what a column's header
/// says about the cells that say nothing. Decimals with a point, no thousands separators. The arithmetic is exact.
/// </summary>
public static class MeasureReader
{
    /// <summary>Longer than any measure anybody writes, and short enough that no text costs time.</summary>
    private const int MaxLength = 60;

    private static readonly SearchValues<char> NumberCharacters = SearchValues.Create("0123456789./+- ");

    /// <param name="unit">The unit of a number that has none; null when such a number is refused.</param>
    /// <param name="known">Every unit that may be written.</param>
    /// <param name="grains">Whole grains: nanometres, pascals, microlitres.</param>
    public static bool TryRead(
        string? text, MeasureUnit? unit, IReadOnlyList<MeasureUnit> known, out long grains, out MeasureFault fault)
    {
        grains = 0;
        var written = (text ?? "").Trim();
        var end = written.AsSpan().IndexOfAnyExcept(NumberCharacters);
        var (number, word) = end < 0 ? (written, "") : (written[..end], written[end..]);

        // A comma may mean a decimal point or thousands: nobody guesses.
        if (written.Length > MaxLength || word.StartsWith(',') || !TryReadNumber(number, out var numerator, out var denominator))
        {
            fault = MeasureFault.NotANumber;
            return false;
        }
        if (word.Length > 0 && !TryFind(word, known, out unit))
        {
            fault = MeasureFault.UnknownUnit;
            return false;
        }
        if (unit is null)
        {
            fault = MeasureFault.NoUnit;
            return false;
        }
        return TryScale(numerator * unit.GrainsNumerator, denominator * unit.GrainsDenominator, unit.Rounds, out grains, out fault);
    }

    private static bool TryFind(string word, IReadOnlyList<MeasureUnit> known, [NotNullWhen(true)] out MeasureUnit? unit)
    {
        unit = known.FirstOrDefault(candidate => candidate.Written.Contains(word, StringComparer.OrdinalIgnoreCase));
        return unit is not null;
    }

    private static bool TryScale(BigInteger numerator, BigInteger denominator, bool rounds, out long grains, out MeasureFault fault)
    {
        grains = 0;
        var quotient = BigInteger.DivRem(numerator, denominator, out var remainder);
        if (!remainder.IsZero && !rounds)
        {
            fault = MeasureFault.TooFine;
            return false;
        }
        if (BigInteger.Abs(remainder) * 2 >= denominator) quotient += remainder.Sign;
        if (quotient > long.MaxValue || quotient < long.MinValue)
        {
            fault = MeasureFault.TooLarge;
            return false;
        }
        grains = (long)quotient;
        fault = MeasureFault.None;
        return true;
    }

    /// <summary>A decimal number, a fraction, or a whole number and a fraction with a space or a dash between: the denominator is above zero.</summary>
    private static bool TryReadNumber(string text, out BigInteger numerator, out BigInteger denominator)
    {
        (numerator, denominator) = (BigInteger.Zero, BigInteger.One);
        text = text.Trim();
        var negative = text.StartsWith('-');
        if (negative || text.StartsWith('+')) text = text[1..].TrimStart();

        var slash = text.IndexOf('/', StringComparison.Ordinal);
        if (slash < 0)
        {
            if (!TryReadDecimal(text, out numerator, out denominator)) return false;
        }
        else
        {
            var above = text[..slash].Trim();
            var whole = BigInteger.Zero;
            var gap = above.LastIndexOfAny([' ', '-']);
            if (gap > 0)
            {
                if (!TryReadDigits(above[..gap].Trim(), out whole)) return false;
                above = above[(gap + 1)..];
            }
            if (!TryReadDigits(above, out numerator) || !TryReadDigits(text[(slash + 1)..].Trim(), out denominator) || denominator.IsZero) return false;
            numerator += whole * denominator;
        }
        if (negative) numerator = -numerator;
        return true;
    }

    private static bool TryReadDecimal(string text, out BigInteger numerator, out BigInteger denominator)
    {
        (numerator, denominator) = (BigInteger.Zero, BigInteger.One);
        var point = text.IndexOf('.', StringComparison.Ordinal);
        var (whole, fraction) = point < 0 ? (text, "") : (text[..point], text[(point + 1)..]);
        if (!TryReadDigits(whole + fraction, out numerator)) return false;
        denominator = BigInteger.Pow(10, fraction.Length);
        return true;
    }

    private static bool TryReadDigits(string text, out BigInteger number)
    {
        number = BigInteger.Zero;
        return text.Length > 0 && text.All(char.IsAsciiDigit) && BigInteger.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out number);
    }
}
