using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>How many forms at the door are taken from one address: whoever tries names one after another is slowed as well as who tries passwords.</summary>
public static class DoorRate
{
    public const string Policy = "door";

    public static void AddDoorRate(this IServiceCollection services, ServeSettings settings) => services.AddRateLimiter(options =>
    {
        options.AddPolicy(Policy, http => RateLimitPartition.GetFixedWindowLimiter(WhereFrom(http.Connection.RemoteIpAddress),
            _ => new FixedWindowRateLimiterOptions { PermitLimit = settings.SignInsPerMinute, Window = TimeSpan.FromMinutes(1) }));
        options.OnRejected = async (rejected, cancellation) =>
        {
            var wait = rejected.Lease.TryGetMetadata(MetadataName.RetryAfter, out var left) ? (int)Math.Ceiling(left.TotalSeconds) : 60;
            rejected.HttpContext.Response.Headers.RetryAfter = wait.ToString(CultureInfo.InvariantCulture);
            var services = rejected.HttpContext.RequestServices;
            await services.GetRequiredService<AuditDesk>().Refused(services.GetRequiredService<CurrentCaller>().Caller, "SendForm", "TOO_MANY", cancellation);
            await Shield.Answer(rejected.HttpContext, StatusCodes.Status429TooManyRequests,
                new("TOO_MANY", "Too many tries came from this address.", $"Try again in {wait} seconds."));
        };
    });

    /// <summary>One visitor: an address, or in the newer kind of address the network that one household or shop has.</summary>
    private static string WhereFrom(IPAddress? address)
    {
        if (address is null) return "";
        if (address.IsIPv4MappedToIPv6) address = address.MapToIPv4();
        return address.AddressFamily == AddressFamily.InterNetworkV6 ? Convert.ToHexString(address.GetAddressBytes()[..8]) : address.ToString();
    }
}
