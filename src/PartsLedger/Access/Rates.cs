using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>
/// How often one account or one address may do what others pay for: try to sign in, and send heavy requests. Each copy of the program counts for
/// itself. How often a shop ever does these things lies far below; see docs/access.md.
/// </summary>
public sealed class Rates : IDisposable
{
    /// <summary>The policy of the forms at the door, by address: whoever tries names one after another is slowed as well as who tries passwords.</summary>
    public const string Door = "door";

    public const string TooMany = "TOO_MANY";

    private static readonly TimeSpan Minute = TimeSpan.FromMinutes(1);

    private readonly PartitionedRateLimiter<string> _names;
    private readonly PartitionedRateLimiter<Caller> _heavy;
    private readonly PartitionedRateLimiter<string> _useless;
    private readonly Refusal _ofName, _ofHeavy;
    private readonly int _mostHeavy;
    private readonly int _heavyWait;

    public Rates(ServeSettings settings)
    {
        _names = PartitionedRateLimiter.Create<string, string>(name => RateLimitPartition.GetFixedWindowLimiter(name, _ => Window(settings.SignInsPerName)));
        _heavy = PartitionedRateLimiter.CreateChained(
            PartitionedRateLimiter.Create<Caller, string>(caller => RateLimitPartition.GetTokenBucketLimiter(caller.Name, _ => Bucket(settings.HeavyPerMinute))),
            PartitionedRateLimiter.Create<Caller, string>(caller => RateLimitPartition.GetTokenBucketLimiter(
                IPAddress.TryParse(caller.Address, out var address) ? WhereFrom(address) : "", _ => Bucket(settings.HeavyPerAddress))));
        _useless = PartitionedRateLimiter.Create<string, string>(name => RateLimitPartition.GetTokenBucketLimiter(name, _ => Bucket(settings.UselessPerMinute, Math.Max(1, settings.UselessPerMinute / 4))));
        _mostHeavy = Math.Min(settings.HeavyPerMinute, settings.HeavyPerAddress);
        _heavyWait = (int)Math.Ceiling(Bucket(settings.HeavyPerMinute).ReplenishmentPeriod.TotalSeconds);
        _ofName = new(TooMany, "There were too many tries to sign in as this person.", "Try again in a minute.");
        _ofHeavy = new(TooMany, $"More than {settings.HeavyPerMinute} large questions came from one account in a minute, or many times that from one place.",
            $"Try again in {(_heavyWait == 1 ? "a second" : $"{_heavyWait} seconds")}, and ask more slowly.");
    }

    /// <summary>Why this caller may not send such a request now (<see cref="TooMany"/>), else null: then it is counted.</summary>
    public Refusal? WhyNotNow(Type request, Caller caller) => HeavyAttribute.IsOn(request) ? WhyNotNow(1, caller) : null;

    /// <summary>The same for something that counts as so many heavy requests, or as none.</summary>
    public Refusal? WhyNotNow(int heavy, Caller caller)
    {
        if (heavy == 0 || !IsCounted(caller)) return null;
        using var lease = _heavy.AttemptAcquire(caller, Math.Min(heavy, _mostHeavy));
        return lease.IsAcquired ? null : _ofHeavy;
    }

    /// <summary>Why nothing more of this caller is read for now: too much of what they sent lately was of no use; else null.</summary>
    public Refusal? WhyNotRead(Caller caller)
    {
        // Asked and not taken: what is left over between two whole ones is no permit.
        return IsCounted(caller) && _useless.GetStatistics(caller.Name) is { CurrentAvailablePermits: 0 } ? OfUseless : null;
    }

    /// <summary>Counts a document that could not be answered: reading it was work all the same.</summary>
    public void WasUseless(Caller caller)
    {
        if (IsCounted(caller)) _useless.AttemptAcquire(caller.Name).Dispose();
    }

    public static Refusal OfUseless { get; } = new(TooMany, "Too many documents of this account could not be answered.", "Mend them, and send one a second at most.");

    /// <summary>Whoever came in by nothing is at the machine itself, where counting would protect nobody.</summary>
    private static bool IsCounted(Caller caller) => caller.CameBy != CameBy.Nothing;

    /// <summary>Why nobody may try to sign in as this person now, known here or not; else null, and the try is counted.</summary>
    public Refusal? WhyNotTry(string name)
    {
        using var lease = _names.AttemptAcquire(name);
        return lease.IsAcquired ? null : _ofName;
    }

    /// <summary>After how many seconds it makes sense to come again; null for a refusal that says nothing of too many.</summary>
    public int? WaitAfter(Refusal refusal) => refusal == _ofHeavy ? _heavyWait : refusal == _ofName ? (int)Minute.TotalSeconds : null;

    public void Dispose()
    {
        _names.Dispose();
        _heavy.Dispose();
        _useless.Dispose();
    }

    /// <summary>The limit on forms at the door, which stands before they are read.</summary>
    public static void AddTo(IServiceCollection services, ServeSettings settings) => services.AddRateLimiter(options =>
    {
        options.AddPolicy(Door, http => RateLimitPartition.GetFixedWindowLimiter(WhereFrom(http.Connection.RemoteIpAddress), _ => Window(settings.SignInsPerMinute)));
        options.OnRejected = async (rejected, cancellation) =>
        {
            var wait = rejected.Lease.TryGetMetadata(MetadataName.RetryAfter, out var left) ? (int)Math.Ceiling(left.TotalSeconds) : 60;
            rejected.HttpContext.Response.Headers.RetryAfter = wait.ToString(CultureInfo.InvariantCulture);
            var services = rejected.HttpContext.RequestServices;
            await services.GetRequiredService<AuditDesk>().Refused(services.GetRequiredService<CurrentCaller>().Caller, "SendForm", TooMany, cancellation);
            await Shield.Answer(rejected.HttpContext, StatusCodes.Status429TooManyRequests,
                new(TooMany, "Too many tries came from this address.", $"Try again in {wait} seconds."));
        };
    });

    private static FixedWindowRateLimiterOptions Window(int limit) => new() { PermitLimit = limit, Window = Minute };

    /// <summary>So many at once (a minute's worth where nothing is said), and a minute's worth spread over each minute: a burst of work is no flood.</summary>
    private static TokenBucketRateLimiterOptions Bucket(int limit, int? atOnce = null)
    {
        var perSecond = Math.Max(1, limit / 60);
        return new() { TokenLimit = atOnce ?? limit, TokensPerPeriod = perSecond, ReplenishmentPeriod = limit >= 60 ? TimeSpan.FromSeconds(1) : Minute / limit };
    }

    /// <summary>One visitor: an address, or in the newer kind of address the network that one household or shop has.</summary>
    private static string WhereFrom(IPAddress? address)
    {
        if (address is null) return "";
        if (address.IsIPv4MappedToIPv6) address = address.MapToIPv4();
        return address.AddressFamily == AddressFamily.InterNetworkV6 ? Convert.ToHexString(address.GetAddressBytes()[..8]) : address.ToString();
    }
}
