using System.Text;
using System.Text.Encodings.Web;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Identification;

/// <summary>
/// Everything the counter's page was asked, as it stands in its address: so that a link, a reload and the back button always show the same.
/// </summary>
/// <param name="Text">What was typed in the box.</param>
/// <param name="As">How to read it: <c>number</c>, <c>machine</c> or <c>serial</c>; null takes the likeliest.</param>
/// <param name="Variant">The one that was chosen.</param>
/// <param name="Worn">Positions found worn, as typed.</param>
/// <param name="Looking">There is nothing to read: the pump itself is looked at.</param>
public sealed record CounterQuestion(
    string Text, string? As, IReadOnlyList<Observation> Seen, IReadOnlyList<string> Unknown, JobScope? Scope, string? Variant, string Worn, KitPreference Prefer,
    bool Looking = false)
{
    private const int MostGiven = 100;

    public static CounterQuestion Read(IQueryCollection query)
    {
        var seen = query["seen"].OfType<string>().Take(MostGiven).Select(one => (Text: one, At: one.IndexOf('=', StringComparison.Ordinal)))
            .Where(one => one.At > 0).Select(one => new Observation(one.Text[..one.At], one.Text[(one.At + 1)..])).ToList();
        return new(Of("q"), Of("as") is { Length: > 0 } kind ? kind : null, seen, [.. query["unknown"].OfType<string>().Take(MostGiven)],
            Words.TryParse(Of("scope"), out JobScope scope) ? scope : null, Of("variant") is { Length: > 0 } variant ? variant : null, Of("worn"),
            Words.TryParse(Of("prefer"), out KitPreference prefer) ? prefer : KitPreference.Cost, Of("look") == "yes");

        string Of(string name) => ((string?)query[name] ?? "").Trim();
    }

    /// <summary>What the box asks when this is typed into it and nothing else is known.</summary>
    public static CounterQuestion Of(string text) => new(text, null, [], [], null, null, "", KitPreference.Cost);

    /// <summary>Something is known or asked for; else the page is empty and says what to do first.</summary>
    public bool IsEmpty => Text.Length == 0 && Seen.Count == 0 && Unknown.Count == 0 && Variant is null && !Looking;

    /// <summary>The address that asks this.</summary>
    public string Address
    {
        get
        {
            var address = new StringBuilder("/counter");
            Add("q", Text);
            Add("as", As);
            foreach (var seen in Seen) Add("seen", $"{seen.Feature}={seen.Value}");
            foreach (var feature in Unknown) Add("unknown", feature);
            Add("scope", Scope is { } scope ? Words.Of(scope) : null);
            Add("variant", Variant);
            Add("worn", Worn);
            Add("prefer", Prefer == KitPreference.Cost ? null : Words.Of(Prefer));
            Add("look", Looking ? "yes" : null);
            return address.ToString();

            void Add(string name, string? value)
            {
                if (!string.IsNullOrEmpty(value)) address.Append(address.Length == "/counter".Length ? '?' : '&').Append(name).Append('=').Append(UrlEncoder.Default.Encode(value));
            }
        }
    }
}
