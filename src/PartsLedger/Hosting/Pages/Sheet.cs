using Microsoft.AspNetCore.Http.Extensions;

namespace PartsLedger.Hosting.Pages;

/// <summary>
/// What stands in a form, whether it came in the address or was sent: so that a form that is filled scan by scan can be reloaded, sent to
/// a colleague and gone back to.
/// </summary>
public sealed class Sheet
{
    /// <summary>The field that takes scans.</summary>
    public const string ScanField = "scan";

    private const int MostFields = 30, Longest = 2_000;

    private readonly Dictionary<string, string> _values;

    private Sheet(Dictionary<string, string> values) => _values = values;

    public static Sheet Of(IQueryCollection query) => Of(query.Keys, name => query[name].ToString());

    /// <summary>All of the form but what makes it the form of somebody: that belongs in no address.</summary>
    public static Sheet Of(FormPost post) => Of(post.Names.Where(name => name is not (FormPost.RequestField or FormPost.TokenField)), post.Text);

    private static Sheet Of(IEnumerable<string> names, Func<string, string> read) => new(names.Take(MostFields)
        .Select(name => (Name: name, Text: read(name).Trim())).Where(field => field.Text.Length is > 0 and <= Longest).ToDictionary(field => field.Name, field => field.Text));

    /// <summary>What stands in the field; empty when nothing does.</summary>
    public string this[string name] => _values.GetValueOrDefault(name, "");

    public bool Has(string name) => _values.ContainsKey(name);

    public Sheet With(string name, string? value)
    {
        var values = new Dictionary<string, string>(_values);
        if (string.IsNullOrEmpty(value)) values.Remove(name);
        else values[name] = value;
        return new(values);
    }

    /// <summary>Only these fields.</summary>
    public Sheet Only(params string[] names) => new(_values.Where(field => names.Contains(field.Key)).ToDictionary());

    /// <summary>An address with what is known of these; what is empty is left out.</summary>
    public static string Address(string path, params (string Name, string? Value)[] fields) =>
        path + new QueryBuilder(fields.Where(field => !string.IsNullOrEmpty(field.Value)).Select(field => KeyValuePair.Create(field.Name, field.Value!))).ToQueryString();

    /// <summary>The address of the page with this in its form.</summary>
    public string At(string path) => path + new QueryBuilder(_values.OrderBy(field => field.Key, StringComparer.Ordinal)).ToQueryString();
}
