using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>One of the choices of how the shop writes sizes, numbers and money.</summary>
/// <param name="Name">As <c>setShopChoice</c> takes it.</param>
/// <param name="What">What it is about, in a sentence.</param>
/// <param name="May">What may be given.</param>
/// <param name="With">The format with what was given, or why that cannot be.</param>
/// <param name="Of">What is chosen in a format, as it is given.</param>
public sealed record FormatChoice(string Name, string What, string May, Func<ShopFormat, string, Outcome<ShopFormat>> With, Func<ShopFormat, string> Of)
{
    private const int LongestSign = 12;

    // Chosen by an example, so that no shop can have the same sign for both.
    private static readonly IReadOnlyDictionary<string, NumberSigns> Examples = new Dictionary<string, NumberSigns>
    {
        ["1234.5"] = NumberSigns.Usual, ["1234,5"] = new(',', ""), ["1,234.5"] = new('.', ","), ["1.234,5"] = new(',', "."),
        ["1 234.5"] = new('.', NumberSigns.Space), ["1 234,5"] = new(',', NumberSigns.Space), ["1'234.5"] = new('.', "'"),
    };

    public static IReadOnlyList<FormatChoice> All { get; } =
    [
        Unit("length-unit", "The unit of lengths on the pages, and of what is typed there without a unit.", ShopUnits.Lengths,
            (format, unit) => format with { LengthUnit = unit }, format => format.LengthUnit),
        Unit("pressure-unit", "The unit of pressures on the pages. A pressure class is shown in a second unit too.", ShopUnits.Pressures,
            (format, unit) => format with { PressureUnit = unit }, format => format.PressureUnit),
        Unit("flow-unit", "The unit of a pump's flow on the pages: litres or US gallons a minute.", ShopUnits.Flows,
            (format, unit) => format with { FlowUnit = unit }, format => format.FlowUnit),
        Unit("temperature-unit", "The unit of temperatures on the pages: degrees Celsius or Fahrenheit.", ShopUnits.Temperatures,
            (format, unit) => format with { TemperatureUnit = unit }, format => format.TemperatureUnit),
        new("number-format", "How numbers are written on the pages. They are read with a point or a comma all the same.", $"one of these examples: {string.Join("; ", Examples.Keys)}",
            (format, value) => Examples.TryGetValue(value.Replace(NumberSigns.Space, " ", StringComparison.Ordinal).Replace('’', '\''), out var signs) ? format with { Numbers = signs }
                : new Refusal("UNKNOWN_WORD", "That is none of the ways in which numbers are written here.", $"Give one of: {string.Join("; ", Examples.Keys)}."),
            format => Examples.First(example => example.Value == format.Numbers).Key),
        new("currency", "The currency's sign or letters and where they stand. Nothing is converted: all amounts are in the shop's one currency.", "# where the amount stands: $#, # €, EUR #, or # alone",
            (format, value) => Currency(value).Then<ShopFormat>(sign => format with { Currency = sign }),
            format => format.Currency.Around(CurrencySign.Amount.ToString()).Replace(NumberSigns.Space, " ", StringComparison.Ordinal)),
    ];

    private static FormatChoice Unit(string name, string what, IReadOnlyList<ShopUnit> units, Func<ShopFormat, ShopUnit, ShopFormat> with, Func<ShopFormat, ShopUnit> of)
    {
        var words = string.Join(", ", units.Select(unit => unit.Word));
        return new(name, what, $"one of: {words}", (format, value) =>
            units.FirstOrDefault(unit => unit.Word.Equals(value, StringComparison.OrdinalIgnoreCase) || unit.Name.Equals(value, StringComparison.OrdinalIgnoreCase)) is { } unit ? with(format, unit)
                : new Refusal("UNKNOWN_WORD", "That is none of the units that can be chosen here.", $"Give one of: {words}."), format => of(format).Word);
    }

    private static Outcome<CurrencySign> Currency(string value)
    {
        var parts = value.Split(CurrencySign.Amount);
        if (parts.Length != 2 || value.Length > LongestSign || value.Any(sign => char.IsDigit(sign) || char.IsControl(sign) || sign is '-' or '−' or '+'))
            return new Refusal("CURRENCY_FORM", "That does not say how an amount is written.", "Give the currency's sign or letters, and # where the amount stands: $#, # € or EUR #.");
        return new CurrencySign(parts[0].Replace(" ", NumberSigns.Space, StringComparison.Ordinal), parts[1].Replace(" ", NumberSigns.Space, StringComparison.Ordinal));
    }
}
