using System.Globalization;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.Pages;

/// <summary>
/// Reads a form's fields as values, one after the other, and remembers the first that says nothing: the form goes back with that. Whether the
/// value may be is the request's rule, not a page's.
/// </summary>
public sealed class FormReader(FormPost post)
{
    public Refusal? Refusal { get; private set; }

    public Quantity Quantity(string name) => Domain.Measures.Quantity.TryParse(post.Text(name), out var quantity) ? quantity
        : Not<Quantity>(new("BAD_QUANTITY", $"'{Brief(name)}' is no quantity.", "Give a number such as 12 or 2.5."));

    public Money? MoneyIfGiven(string name) => post.TextIfGiven(name) is not { } text ? null : Money.TryParse(text, out var money) ? money
        : Not<Money>(new("BAD_AMOUNT", $"'{Brief(name)}' is no amount of money.", "Give a number such as 12.50."));

    public DateOnly? DayIfGiven(string name) => post.TextIfGiven(name) is not { } text ? null
        : DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day
        : Not<DateOnly>(new("BAD_DATE", $"'{Brief(name)}' is no day.", "Give it as year, month and day: 2031-05-01."));

    /// <summary>A word of the trade out of a list.</summary>
    /// <param name="otherwise">What an empty field says.</param>
    public T Word<T>(string name, T otherwise) where T : struct, Enum => post.TextIfGiven(name) is not { } text ? otherwise : Words.TryParse(text, out T word) ? word
        : Not<T>(new("UNKNOWN_WORD", $"'{Brief(name)}' is none of the words that can be chosen.", $"Choose one of: {string.Join(", ", Words.All<T>())}."));

    private T Not<T>(Refusal refusal) where T : struct
    {
        Refusal ??= refusal;
        return default;
    }

    private string Brief(string name) => post.Text(name) is { Length: > 40 } text ? text[..40] + "…" : post.Text(name);
}
