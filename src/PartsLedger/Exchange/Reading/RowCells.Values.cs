using System.Globalization;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Exchange.Reading;

/// <summary>Quantities, money, dates and measures.</summary>
public sealed partial class RowCells
{
    /// <summary>More of anything than a shop has: beyond this a number is a slip of the keyboard.</summary>
    private const long Most = 1_000_000_000;

    private const string Decimals = "write it with a point and without separators of thousands or units";

    /// <summary>How many; an empty cell, a number below zero and more than a thousand million are refused.</summary>
    public Quantity Quantity(string column, bool zeroAllowed = false)
    {
        if (IsEmpty(column)) Reject(column, "The cell is empty; say how many.");
        else if (!Domain.Measures.Quantity.TryParse(Raw(column), out var quantity))
            Reject(column, IsNumber(column) ? $"{Brief(Raw(column))} is finer than a thousandth or too large to be a quantity."
                : $"'{Brief(Raw(column))}' is no number; {Decimals}.");
        else if (quantity < Domain.Measures.Quantity.Zero) Reject(column, $"{Brief(Raw(column))} is below zero.");
        else if (quantity == Domain.Measures.Quantity.Zero && !zeroAllowed) Reject(column, "The quantity must be above zero.");
        else if (quantity > Domain.Measures.Quantity.FromWhole(Most)) Reject(column, $"{Brief(Raw(column))} is too many to be true.");
        else return quantity;
        return Domain.Measures.Quantity.FromWhole(1);
    }

    /// <summary>Refuses a fraction of something that is counted in whole pieces.</summary>
    public void RequireWhole(string column, Quantity quantity, string part, string unit)
    {
        if (!quantity.IsWhole) Reject(column, $"{quantity} is not whole, and part {part} is counted in whole pieces ({unit}).");
    }

    /// <summary>An amount of money of zero or more; null for an empty cell.</summary>
    public Money? OptionalMoney(string column)
    {
        if (IsEmpty(column)) return null;
        if (!Money.TryParse(Raw(column), out var money))
            Reject(column, IsNumber(column) ? $"{Brief(Raw(column))} is finer than a ten-thousandth or too large to be an amount."
                : $"'{Brief(Raw(column))}' is no amount; {Decimals} or currency.");
        else if (money < Money.Zero) Reject(column, $"{Brief(Raw(column))} is below zero.");
        else if (money > Money.FromTenThousandths(Most * Money.PerUnit)) Reject(column, $"{Brief(Raw(column))} is too much to be true.");
        else return money;
        return null;
    }

    /// <summary>A plain number in millionths; null for an empty cell.</summary>
    public long? OptionalMillionths(string column)
    {
        if (IsEmpty(column)) return null;
        if (!TryNumber(column, out var number)) Reject(column, $"'{Brief(Raw(column))}' is no number; {Decimals}.");
        else if (Math.Abs(number) > Most) Reject(column, $"{Brief(Raw(column))} is too large.");
        else if (number * 1_000_000m is var millionths && millionths != decimal.Truncate(millionths))
            Reject(column, $"{Brief(Raw(column))} is finer than a millionth.");
        else return (long)millionths;
        return null;
    }

    /// <summary>A day, or the first (or last) day of the month or year written: <c>2009-06-14</c>, <c>2009-06</c>, <c>2009</c>.</summary>
    public DateOnly? OptionalDay(string column, bool lastOfPeriod)
    {
        var text = Raw(column);
        if (text.Length == 0) return null;
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)) return day;
        if (DateOnly.TryParseExact(text, "yyyy-MM", CultureInfo.InvariantCulture, DateTimeStyles.None, out var month))
            return lastOfPeriod ? new DateOnly(month.Year, month.Month, DateTime.DaysInMonth(month.Year, month.Month)) : month;
        if (DateOnly.TryParseExact(text, "yyyy", CultureInfo.InvariantCulture, DateTimeStyles.None, out var year))
            return lastOfPeriod ? new DateOnly(year.Year, 12, 31) : year;
        Reject(column, $"'{Brief(text)}' is no date; write yyyy-mm-dd, yyyy-mm or yyyy.");
        return null;
    }

    public Length? OptionalLength(string column)
    {
        if (IsEmpty(column)) return null;
        if (LengthUnits.TryRead(Raw(column), layout.UnitOf(column), out var length, out var fault) && InReach(length.Nanometres, ref fault)) return length;
        RejectMeasure(column, fault, LengthUnits.All, "nanometre");
        return null;
    }

    public Pressure? OptionalPressure(string column)
    {
        if (IsEmpty(column)) return null;
        if (PressureUnits.TryRead(Raw(column), layout.UnitOf(column), out var pressure, out var fault) && InReach(pressure.Pascals, ref fault)) return pressure;
        RejectMeasure(column, fault, PressureUnits.All, "pascal");
        return null;
    }

    public Pressure Pressure(string column)
    {
        if (IsEmpty(column)) Missing(column);
        return OptionalPressure(column) ?? Domain.Measures.Pressure.Zero;
    }

    public Volume? OptionalVolume(string column)
    {
        if (IsEmpty(column)) return null;
        if (VolumeUnits.TryRead(Raw(column), layout.UnitOf(column), out var volume, out var fault) && InReach(volume.Microlitres, ref fault)) return volume;
        RejectMeasure(column, fault, VolumeUnits.All, "microlitre");
        return null;
    }

    /// <summary>A thousand kilometres, a million megapascals: no part of a pump comes near, and sums of such measures still fit.</summary>
    private static bool InReach(long grains, ref MeasureFault fault)
    {
        if (Math.Abs(grains) <= 1_000_000_000_000_000) return true;
        fault = MeasureFault.TooLarge;
        return false;
    }

    private void RejectMeasure(string column, MeasureFault fault, IReadOnlyList<MeasureUnit> known, string grain)
    {
        var text = Brief(Raw(column));
        var units = string.Join(", ", known.Select(unit => unit.Written[0]));
        Reject(column, fault switch
        {
            MeasureFault.UnknownUnit => $"'{text}' has an unknown unit; write one of {units}, or none.",
            MeasureFault.NoUnit => $"'{text}' has no unit, and the header has none either; write one of {units}.",
            MeasureFault.TooFine => $"{text} is finer than a {grain}.",
            MeasureFault.TooLarge => $"{text} is too large.",
            _ => $"'{text}' is no measure; write a number such as 15.875 or 3/16 with a point and without separators of thousands.",
        });
    }

    /// <summary>Several lengths with semicolons between them; at least one.</summary>
    public IReadOnlyList<Length> Lengths(string column)
    {
        var lengths = new List<Length>();
        if (IsEmpty(column)) Missing(column);
        foreach (var text in Raw(column).Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (LengthUnits.TryRead(text, layout.UnitOf(column), out var length, out _) && length > Length.Zero && length.Nanometres <= Most) lengths.Add(length);
            else
            {
                Reject(column, $"'{Brief(text)}' is no diameter; write numbers such as 15.875 with semicolons between them.");
                break;
            }
        }
        return lengths;
    }

    /// <summary>A temperature in thousandths of a degree Celsius, from −40 to 150 °C.</summary>
    public int MilliCelsius(string column)
    {
        if (IsEmpty(column)) Missing(column);
        else if (!TryNumber(column, out var degrees) || Math.Abs(degrees) > 1000) Reject(column, $"'{Brief(Raw(column))}' is no temperature.");
        else if (TemperatureUnits.ToMilliCelsius(degrees, layout.UnitOf(column) ?? TemperatureUnits.Celsius) is < -40_000 or > 150_000)
            Reject(column, $"{Brief(Raw(column))} degrees is no temperature anybody measures a piece at; check the unit.");
        else return TemperatureUnits.ToMilliCelsius(degrees, layout.UnitOf(column) ?? TemperatureUnits.Celsius);
        return 20_000;
    }

    private bool IsNumber(string column) => TryNumber(column, out _);

    private bool TryNumber(string column, out decimal number) => decimal.TryParse(Raw(column),
        NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number);
}
