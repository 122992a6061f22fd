using System.Globalization;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Jobs;

/// <summary>How the figures in a form of the bench are read: as they are typed there, with a dot or a comma.</summary>
internal static class BenchFields
{
    private const decimal Most = 1_000_000;

    public sealed record MaybeNumber(decimal? Number);

    public sealed record MaybeQuantity(Quantity? Quantity);

    public sealed record MaybeLength(long? Nanometres);

    public static Outcome<MaybeNumber> Number(this FormPost post, string field)
    {
        var text = post.Text(field);
        if (text.Length == 0) return new MaybeNumber(null);
        return decimal.TryParse(text.Replace(',', '.').Replace('−', '-'), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            && Math.Abs(number) <= Most ? new MaybeNumber(number)
            : new Refusal("VALUE_UNREADABLE", $"'{text}' cannot be read as a number of up to a million.", "Write figures alone here, like 4.75.");
    }

    public static Outcome<MaybeQuantity> Quantity(this FormPost post, string field) => post.Number(field).Then(read =>
        read.Number is { } number ? number.ToQuantity().Then<MaybeQuantity>(quantity => new MaybeQuantity(quantity)) : new MaybeQuantity(null));

    public static Outcome<MaybeLength> Millimetres(this FormPost post, string field) => post.Number(field).Then<MaybeLength>(read =>
        new MaybeLength(read.Number is { } number ? Fit.FitActs.Nanometres(number) : null));

    public static Outcome<int> MilliCelsius(this FormPost post, string field) => post.Number(field).Then<int>(read =>
        read.Number is { } number ? (int)decimal.Round(Math.Clamp(number, -Most, Most) * 1000)
            : new Refusal("TEMPERATURE_MISSING", "The temperature is not given.", "Measure it and give it in °C."));

    /// <summary>The number of what the form had shown when it was filled in.</summary>
    public static long? SeenIn(this FormPost post) => long.TryParse(post.Text("seen"), NumberStyles.None, CultureInfo.InvariantCulture, out var seen) ? seen : null;

    /// <summary>A number out of the form's own address.</summary>
    public static long InAddress(this FormPost post, string name) => long.Parse((string)post.Http.Request.RouteValues[name]!, CultureInfo.InvariantCulture);
}
