using System.Globalization;

namespace PartsLedger.Domain.Identification;

/// <summary>A machine a variant is used in, as the application list states it. An end of the years that is not stated is open.</summary>
/// <param name="YearFrom">First year, part of the range.</param>
/// <param name="YearTo">Last year, part of the range.</param>
public sealed record MachineApplication(string Make, string Model, string? Option, int? YearFrom, int? YearTo)
{
    /// <summary><c>1999 to 2009</c>, <c>since 2004</c>, <c>until 2010</c>; empty where no year is stated.</summary>
    public string Years
    {
        get
        {
            var (from, to) = (YearFrom?.ToString(CultureInfo.InvariantCulture), YearTo?.ToString(CultureInfo.InvariantCulture));
            return (from, to) switch
            {
                (null, null) => "",
                (null, _) => $"until {to}",
                (_, null) => $"since {from}",
                _ => from == to ? from : $"{from} to {to}",
            };
        }
    }

    /// <summary>By how many years a span misses the range: 0 when they meet or no year is stated.</summary>
    internal int YearsOff(int first, int last) => Math.Max(0, Math.Max((YearFrom ?? first) - last, first - (YearTo ?? last)));
}
