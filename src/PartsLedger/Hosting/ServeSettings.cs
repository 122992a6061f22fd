using System.Globalization;
using System.Net;
using PartsLedger.Access;
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
    public const string UselessName = "PARTSLEDGER_USELESS_PER_MINUTE";
    public const string AnswerName = "PARTSLEDGER_ANSWER_SECONDS";
    public const string IntrospectionName = "PARTSLEDGER_INTROSPECTION";
    public const string ServiceAddressName = "PARTSLEDGER_OPENID";
    public const string ServiceClientName = "PARTSLEDGER_OPENID_CLIENT";
    public const string ServiceSecretName = "PARTSLEDGER_OPENID_SECRET";
    public const string ServiceSecretFileName = "PARTSLEDGER_OPENID_SECRET_FILE";
    public const string ServiceNameName = "PARTSLEDGER_OPENID_NAME";
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

    /// <summary>After so many documents of no use from one account in a minute, nothing more of it is read for a while.</summary>
    public int UselessPerMinute { get; init; } = 60;

    /// <summary>So long an answer may take, in seconds, before it is given up; imports may take ten minutes.</summary>
    public int AnswerSeconds { get; init; } = 60;

    /// <summary>To whom is told what can be asked: by introspection, as the printed schema, and on the page that explores it.</summary>
    public SchemaTold Schema { get; init; } = SchemaTold.ToPeople;

    /// <summary>Whoever is at the machine itself may know what is written in the program anyway.</summary>
    public bool TellsSchemaTo(Caller caller) => Schema == SchemaTold.ToCallers
        || (Schema == SchemaTold.ToPeople && (caller.PersonId is not null || caller.CameBy == CameBy.Nothing));

    /// <summary>Where people may sign in besides here; nowhere when null.</summary>
    public SignInService? SignInService { get; init; }

    /// <summary>The log is written as one JSON object a line, for programs that collect it.</summary>
    public bool JsonLog { get; init; }

    /// <summary>Reads the settings.</summary>
    /// <param name="named">The text of a setting, or null where nothing was chosen.</param>
    public static Outcome<ServeSettings> Read(Func<string, string?> named)
    {
        var usual = new ServeSettings();
        var https = Choice(named, HttpsName, usual.Https, ("yes", true), ("no", false));
        if (!https.Succeeded) return https.Refusal;
        var schema = Choice(named, IntrospectionName, usual.Schema, ("people", SchemaTold.ToPeople), ("yes", SchemaTold.ToCallers), ("no", SchemaTold.ToNobody));
        if (!schema.Succeeded) return schema.Refusal;
        var json = Choice(named, LogName, usual.JsonLog, ("json", true), ("text", false));
        if (!json.Succeeded) return json.Refusal;

        var signIns = Number(named, SignInsName, usual.SignInsPerMinute);
        if (!signIns.Succeeded) return signIns.Refusal;
        var perName = Number(named, SignInsPerNameName, usual.SignInsPerName);
        if (!perName.Succeeded) return perName.Refusal;
        var heavy = Number(named, HeavyName, usual.HeavyPerMinute);
        if (!heavy.Succeeded) return heavy.Refusal;
        var perAddress = Number(named, HeavyPerAddressName, usual.HeavyPerAddress);
        if (!perAddress.Succeeded) return perAddress.Refusal;
        var useless = Number(named, UselessName, usual.UselessPerMinute);
        if (!useless.Succeeded) return useless.Refusal;

        var answer = Number(named, AnswerName, usual.AnswerSeconds);
        if (!answer.Succeeded) return answer.Refusal;
        var (service, badService) = Service(named);
        if (badService is not null) return badService;

        var proxies = new List<IPNetwork>();
        foreach (var one in (Given(named, ProxiesName) ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            if (IPNetwork.TryParse(one, out var network)) proxies.Add(network);
            else if (IPAddress.TryParse(one, out var address)) proxies.Add(new IPNetwork(address, address.GetAddressBytes().Length * 8));
            else return Bad(ProxiesName, one, "Give the proxies' addresses or networks with commas between: 10.0.0.5, 10.1.0.0/16.");
        return new ServeSettings
        {
            Https = https.Result, Schema = schema.Result, JsonLog = json.Result, Proxies = proxies, SignInService = service,
            SignInsPerMinute = signIns.Result, SignInsPerName = perName.Result, HeavyPerMinute = heavy.Result, HeavyPerAddress = perAddress.Result,
            UselessPerMinute = useless.Result, AnswerSeconds = answer.Result,
        };
    }

    private static (SignInService? Service, Refusal? Refusal) Service(Func<string, string?> named)
    {
        if (Given(named, ServiceAddressName) is not { } address) return default;
        if (!Uri.TryCreate(address, UriKind.Absolute, out var authority) || !(authority.Scheme == Uri.UriSchemeHttps || (authority.Scheme == Uri.UriSchemeHttp && authority.IsLoopback)))
            return (null, Bad(ServiceAddressName, address, "Give the sign-in service's https address."));
        if (Given(named, ServiceClientName) is not { } client) return (null, Bad(ServiceClientName, "", "Give what this program is called at the sign-in service."));
        var secret = Given(named, ServiceSecretName);
        if (secret is null && Given(named, ServiceSecretFileName) is { } file)
            try
            {
                secret = File.ReadAllText(file).Trim();
            }
            catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
            {
                return (null, Bad(ServiceSecretFileName, file, "Name a file that this program can read."));
            }
        if (string.IsNullOrEmpty(secret)) return (null, Bad(ServiceSecretName, "", $"Give the secret, or name its file by {ServiceSecretFileName}."));
        return (new(authority, client, new Secret(secret), Given(named, ServiceNameName) ?? authority.Host), null);
    }

    private static Outcome<T> Choice<T>(Func<string, string?> named, string name, T usual, params (string Word, T Value)[] words) where T : struct
    {
        if (Given(named, name) is not { } given) return usual;
        foreach (var (word, value) in words)
            if (given.Equals(word, StringComparison.OrdinalIgnoreCase)) return value;
        return Bad(name, given, $"Give {string.Join(", ", words.SkipLast(1).Select(one => one.Word))} or {words[^1].Word}, or leave it out.");
    }

    private static Outcome<int> Number(Func<string, string?> named, string name, int usual) => Given(named, name) is not { } given ? usual
        : int.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number is >= 1 and <= 10_000 ? number
        : Bad(name, given, "Give a whole number from 1 to 10000.");

    private static string? Given(Func<string, string?> named, string name) => named(name)?.Trim() is { Length: > 0 } text ? text : null;

    private static Refusal Bad(string name, string given, string whatToDo) => new("BAD_SETTING", $"{name} cannot be '{given}'.", whatToDo);
}

/// <summary>To whom what can be asked is told.</summary>
public enum SchemaTold { ToPeople, ToCallers, ToNobody }
