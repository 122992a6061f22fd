using System.Globalization;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.Pages;

/// <summary>
/// Reads a form's fields as values, one after the other, and remembers the first that says nothing: the form goes back with that. Whether the
/// value may be is the request's rule, not a page's. Numbers are read with a point or a comma; a size that has no unit behind it is in the shop's.
/// </summary>
public sealed class FormReader(FormPost post)
{
    private const decimal Most = 1_000_000;

    private readonly ShopFormat _shop = post.Http.RequestServices.GetRequiredService<ShopFormat>();

    public Refusal? Refusal { get; private set; }

    /// <summary>The form goes back with this, unless something before it was wrong already.</summary>
    public void Refuse(Refusal refusal) => Refusal ??= refusal;

    /// <summary>Sends the act that was made of what was read, unless something in it could not be read.</summary>
    public async Task<Outcome<TAnswer>> Send<TAct, TAnswer>(TAct act, CancellationToken cancellation) where TAct : IAct<TAnswer> where TAnswer : notnull =>
        Refusal is { } refusal ? refusal : await post.Send<TAct, TAnswer>(act, cancellation);

    /// <summary>A field's words with every number in them written plainly, for a request that reads figures itself.</summary>
    public string Figures(string name)
    {
        var plain = _shop.Numbers.Plain(post.Text(name));
        if (plain.Succeeded) return plain.Result;
        Refuse(plain.Refusal);
        return "";
    }

    public decimal? NumberIfGiven(string name) => Figures(name) is not { Length: > 0 } text ? null
        : decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) && Math.Abs(number) <= Most ? number
        : Not<decimal>(new("VALUE_UNREADABLE", $"'{Brief(name)}' cannot be read as a number of up to a million.", "Write figures alone here, like 4.75."));

    public int? WholeIfGiven(string name) => NumberIfGiven(name) is not { } number ? null : number == decimal.Truncate(number) ? (int)number
        : Not<int>(new("VALUE_UNREADABLE", $"'{Brief(name)}' is no whole number.", "Write a number without decimals here, like 4."));

    public Quantity Quantity(string name) => Domain.Measures.Quantity.TryParse(Figures(name), out var quantity) ? quantity
        : Not<Quantity>(new("BAD_QUANTITY", $"'{Brief(name)}' is no quantity.", "Give a number such as 12 or 2.5."));

    public Quantity? QuantityIfGiven(string name) => post.TextIfGiven(name) is null ? null : Quantity(name);

    public Money? MoneyIfGiven(string name) => Figures(name) is not { Length: > 0 } text ? null : Money.TryParse(_shop.Currency.Without(text), out var money) ? money
        : Not<Money>(new("BAD_AMOUNT", $"'{Brief(name)}' is no amount of money.", "Give a number such as 12.50."));

    /// <summary>A length in the shop's unit, or in the one that stands behind it.</summary>
    public Length? LengthIfGiven(string name) => Figures(name) is not { Length: > 0 } text ? null
        : _shop.LengthUnit.TryRead(text, LengthUnits.All, out var nanometres) ? Length.FromNanometres(nanometres)
        : Not<Length>(new("VALUE_UNREADABLE", $"'{Brief(name)}' cannot be read as a length.", $"Write figures, with the unit behind them if it is not {_shop.LengthUnit.Name}."));

    /// <summary>Readings with ; between them, each to the nanometre with its unit: what is none is left for the request to refuse.</summary>
    public string Readings(string name) => string.Join(';', Figures(name).Split(';').Select(one =>
        _shop.LengthUnit.TryRead(one, LengthUnits.All, out var nanometres) ? $"{nanometres} nm" : one));

    /// <summary>A pressure with its unit, as a request takes it.</summary>
    public string Pressure(string name) => Figures(name) is var text && _shop.PressureUnit.TryRead(text, PressureUnits.All, out var pascals)
        ? FormattableString.Invariant($"{pascals / (decimal)Domain.Measures.Pressure.PascalsPerKilopascal} kPa") : text;

    /// <summary>A pressure in whole pascals.</summary>
    public long Pascals(string name) => _shop.PressureUnit.TryRead(Figures(name), PressureUnits.All, out var pascals) ? pascals
        : Not<long>(new("VALUE_UNREADABLE", $"'{Brief(name)}' cannot be read as a pressure.", $"Write figures, with the unit behind them if it is not {_shop.PressureUnit.Name}."));

    /// <summary>A flow with its unit, as a request takes it.</summary>
    public string Flow(string name) => Figures(name) is var text && _shop.FlowUnit.TryRead(text, FlowUnits.All, out var microlitres)
        ? FormattableString.Invariant($"{microlitres / 1000m} ml/min") : text;

    public int MilliCelsius(string name) => Figures(name) is not { Length: > 0 } text
        ? Not<int>(new("TEMPERATURE_MISSING", "The temperature is not given.", $"Measure it and give it in {_shop.TemperatureUnit.Name}."))
        : TemperatureUnits.TryRead(text, _shop.TemperatureUnit.Unit, out var milliCelsius) ? milliCelsius
        : Not<int>(new("VALUE_UNREADABLE", $"'{Brief(name)}' cannot be read as a temperature.", $"Write figures, with the unit behind them if it is not {_shop.TemperatureUnit.Name}."));

    public DateOnly? DayIfGiven(string name) => post.TextIfGiven(name) is not { } text ? null
        : DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day
        : Not<DateOnly>(new("BAD_DATE", $"'{Brief(name)}' is no day.", "Give it as year, month and day: 2031-05-01."));

    /// <summary>A word of the trade out of a list.</summary>
    /// <param name="otherwise">What an empty field says.</param>
    public T Word<T>(string name, T otherwise) where T : struct, Enum => post.TextIfGiven(name) is not { } text ? otherwise : Words.TryParse(text, out T word) ? word
        : Not<T>(new("UNKNOWN_WORD", $"'{Brief(name)}' is none of the words that can be chosen.", $"Choose one of: {string.Join(", ", Words.All<T>())}."));

    /// <summary>The number of what the form had shown when it was filled in.</summary>
    public long? Seen() => long.TryParse(post.Text("seen"), NumberStyles.None, CultureInfo.InvariantCulture, out var seen) ? seen : null;

    /// <summary>A number out of the form's own address.</summary>
    public long InAddress(string name) => long.Parse((string)post.Http.Request.RouteValues[name]!, CultureInfo.InvariantCulture);

    private T Not<T>(Refusal refusal) where T : struct
    {
        Refuse(refusal);
        return default;
    }

    private string Brief(string name) => post.Text(name) is { Length: > 40 } text ? text[..40] + "…" : post.Text(name);
}
