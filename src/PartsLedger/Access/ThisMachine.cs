using System.Net;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>
/// Whether a request was made at this very machine, where the command line is at hand anyway: from its own address, to its own name (a page of
/// another site that has its name lead here names itself), and through nobody who passes requests on: where such are
/// named (<see cref="ServeSettings.Proxies"/>), every request may have come through them.
/// </summary>
public class ThisMachine(ServeSettings? settings = null)
{
    private static readonly string[] OwnNames = ["localhost", "127.0.0.1", "[::1]"];
    private static readonly string[] Forwarders = ["Forwarded", "Via", "X-Real-IP"];

    public virtual bool Sent(HttpContext http) =>
        settings is not { Proxies.Count: > 0 } && http.Connection.RemoteIpAddress is { } from && IPAddress.IsLoopback(from.IsIPv4MappedToIPv6 ? from.MapToIPv4() : from)
        && OwnNames.Contains(http.Request.Host.Host, StringComparer.OrdinalIgnoreCase)
        && !http.Request.Headers.Keys.Any(name => Forwarders.Contains(name, StringComparer.OrdinalIgnoreCase)
            || name.StartsWith("X-Forwarded-", StringComparison.OrdinalIgnoreCase) || name.StartsWith("X-Original-", StringComparison.OrdinalIgnoreCase));
}
