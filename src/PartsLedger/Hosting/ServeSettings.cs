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
    public const string SignInsPerNameName = "PARTSLEDGER_SIGN_INS_PER_NAME";
    public const string HeavyName = "PARTSLEDGER_HEAVY_PER_MINUTE";
    public const string HeavyPerAddressName = "PARTSLEDGER_HEAVY_PER_ADDRESS";
    public const string IntrospectionName = "PARTSLEDGER_INTROSPECTION";
    public const string LogName = "PARTSLEDGER_LOG";

    /// <summary>Served by https only: pages are sent there, programs are refused, and browsers are told to remember it for a year.</summary>
    public bool Https { get; init; }

    /// <summary>Whose word is taken for where a request comes from: addresses of proxies, or networks of them.</summary>
    public IReadOnlyList<IPNetwork> Proxies { get; init; } = [];

    /// <summary>So many forms at the door are taken from one address in a minute: signing in, setting up, choosing a password.</summary>
    public int SignInsPerMinute { get; init; } = 30;

    /// <summary>So many tries to sign in as one person are taken in a minute, from wherever they come.</summary>
    public int SignInsPerName { get; init; } = 10;

    /// <summary>So many heavy requests (<see cref="HeavyAttribute"/>) are answered to one account in a minute.</summary>
    public int HeavyPerMinute { get; init; } = 300;

    /// <summary>And so many to all accounts behind one address.</summary>
    public int HeavyPerAddress { get; init; } = 1_200;

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

        var signIns = Number(named, SignInsName, usual.SignInsPerMinute);
        if (!signIns.Succeeded) return signIns.Refusal;
        var perName = Number(named, SignInsPerNameName, usual.SignInsPerName);
        if (!perName.Succeeded) return perName.Refusal;
        var heavy = Number(named, HeavyName, usual.HeavyPerMinute);
        if (!heavy.Succeeded) return heavy.Refusal;
        var perAddress = Number(named, HeavyPerAddressName, usual.HeavyPerAddress);
        if (!perAddress.Succeeded) return perAddress.Refusal;

        var proxies = new List<IPNetwork>();
        foreach (var one in (Given(named, ProxiesName) ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            if (IPNetwork.TryParse(one, out var network)) proxies.Add(network);
            else if (IPAddress.TryParse(one, out var address)) proxies.Add(new IPNetwork(address, address.GetAddressBytes().Length * 8));
            else return Bad(ProxiesName, one, "Give the proxies' addresses or networks with commas between: 10.0.0.5, 10.1.0.0/16.");
        return new ServeSettings
        {
            Https = https.Result, Introspection = introspection.Result, JsonLog = json.Result, Proxies = proxies,
            SignInsPerMinute = signIns.Result, SignInsPerName = perName.Result, HeavyPerMinute = heavy.Result, HeavyPerAddress = perAddress.Result,
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

    private static Outcome<int> Number(Func<string, string?> named, string name, int usual) => Given(named, name) is not { } given ? usual
        : int.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number is >= 1 and <= 10_000 ? number
        : Bad(name, given, "Give a whole number from 1 to 10000.");

    private static string? Given(Func<string, string?> named, string name) => named(name)?.Trim() is { Length: > 0 } text ? text : null;

    private static Refusal Bad(string name, string given, string whatToDo) => new("BAD_SETTING", $"{name} cannot be '{given}'.", whatToDo);
}
