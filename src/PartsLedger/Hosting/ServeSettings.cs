using System.Globalization;
using System.Net;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>
/// How the program is served: chosen by environment variables, read once at the start. What is written wrongly is refused then, in a sentence
/// (<c>BAD_SETTING</c>), and never taken for something else. See docs/operations.md.
/// </summary>
public sealed record ServeSettings
{
    public const string HttpsName = "PARTSLEDGER_HTTPS";
    public const string ProxiesName = "PARTSLEDGER_PROXIES";
    public const string SignInsName = "PARTSLEDGER_SIGN_INS_PER_MINUTE";
    public const string IntrospectionName = "PARTSLEDGER_INTROSPECTION";
    public const string LogName = "PARTSLEDGER_LOG";

    /// <summary>Served by https only: pages are sent there, programs are refused, and browsers are told to remember it for a year.</summary>
    public bool Https { get; init; }

    /// <summary>Whose word is taken for where a request comes from: addresses of proxies, or networks of them.</summary>
    public IReadOnlyList<IPNetwork> Proxies { get; init; } = [];

    /// <summary>So many forms at the door are taken from one address in a minute: signing in, setting up, choosing a password.</summary>
    public int SignInsPerMinute { get; init; } = 30;

    /// <summary>Whoever may ask may also ask what can be asked.</summary>
    public bool Introspection { get; init; } = true;

    /// <summary>The log is written as one JSON object a line, for programs that collect it.</summary>
    public bool JsonLog { get; init; }

    /// <summary>Reads the settings.</summary>
    /// <param name="named">The text of a setting, or null where nothing was chosen.</param>
    public static Outcome<ServeSettings> Read(Func<string, string?> named)
    {
        var usual = new ServeSettings();
        var https = Choice(named, HttpsName, ("yes", true), ("no", false), usual.Https);
        if (!https.Succeeded) return https.Refusal;
        var introspection = Choice(named, IntrospectionName, ("yes", true), ("no", false), usual.Introspection);
        if (!introspection.Succeeded) return introspection.Refusal;
        var json = Choice(named, LogName, ("json", true), ("text", false), usual.JsonLog);
        if (!json.Succeeded) return json.Refusal;

        var signIns = usual.SignInsPerMinute;
        if (Given(named, SignInsName) is { } number
            && !(int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out signIns) && signIns is >= 1 and <= 10_000))
            return Bad(SignInsName, number, "Give a whole number from 1 to 10000.");

        var proxies = new List<IPNetwork>();
        foreach (var one in (Given(named, ProxiesName) ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            if (IPNetwork.TryParse(one, out var network)) proxies.Add(network);
            else if (IPAddress.TryParse(one, out var address)) proxies.Add(new IPNetwork(address, address.GetAddressBytes().Length * 8));
            else return Bad(ProxiesName, one, "Give the proxies' addresses or networks with commas between: 10.0.0.5, 10.1.0.0/16.");
        return new ServeSettings
        {
            Https = https.Result, Introspection = introspection.Result, JsonLog = json.Result, SignInsPerMinute = signIns, Proxies = proxies,
        };
    }

    private static Outcome<bool> Choice(Func<string, string?> named, string name, (string Word, bool Value) one, (string Word, bool Value) other, bool usual)
    {
        var given = Given(named, name);
        return given is null ? usual
            : given.Equals(one.Word, StringComparison.OrdinalIgnoreCase) ? one.Value
            : given.Equals(other.Word, StringComparison.OrdinalIgnoreCase) ? other.Value
            : Bad(name, given, $"Give {one.Word} or {other.Word}, or leave it out.");
    }

    private static string? Given(Func<string, string?> named, string name) => named(name)?.Trim() is { Length: > 0 } text ? text : null;

    private static Refusal Bad(string name, string given, string whatToDo) => new("BAD_SETTING", $"{name} cannot be '{given}'.", whatToDo);
}
