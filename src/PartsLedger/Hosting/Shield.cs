using System.Globalization;
using System.Security.Cryptography;
using PartsLedger.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Hosting;

/// <summary>
/// Stands around every answer, the door's and all errors included: what browsers must not do with it, https where it was chosen, and for a bug
/// a reference that leads to the log and nothing of what went wrong.
/// </summary>
public sealed class Shield(RequestDelegate next, ServeSettings settings, ILogger<Shield> log)
{
    /// <summary>For whatever says nothing itself: it loads nothing, runs nothing and stands in no frame.</summary>
    private const string Nothing = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    public async Task InvokeAsync(HttpContext http)
    {
        http.Response.OnStarting(() =>
        {
            Protect(http.Response.Headers, http.Request.IsHttps);
            if (http.RequestServices.GetRequiredService<CurrentCaller>().MustWait is { } seconds) TooMany(http.Response, seconds);
            return Task.CompletedTask;
        });
        if (settings.Https && !http.Request.IsHttps && !http.Request.Path.StartsWithSegments("/health", StringComparison.Ordinal))
        {
            await SendToHttps(http);
            return;
        }
        try
        {
            await next(http);
        }
        catch (OperationCanceledException) when (http.RequestAborted.IsCancellationRequested)
        {
            // Whoever asked has gone.
        }
        catch (BadHttpRequestException bad) when (!http.Response.HasStarted)
        {
            http.Response.Clear();
            await Answer(http, bad.StatusCode, new("BAD_REQUEST", "The request cannot be read.", "Send it again as the documentation says."));
        }
        catch (Exception bug) when (!http.Response.HasStarted)
        {
            var reference = NewReference();
            // The path and not what was asked: a query may hold what must not be written down.
            log.LogError(bug, "{Method} {Path} failed; reference {Reference}", http.Request.Method, http.Request.Path, reference);
            http.Response.Clear();
            await Answer(http, StatusCodes.Status500InternalServerError, Failed(reference));
        }
    }

    /// <summary>What stands in the log and in the answer, so that one leads to the other.</summary>
    public static string NewReference() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(5));

    public static Refusal Failed(string reference) =>
        new(ErrorMasking.InternalCode, ErrorMasking.InternalMessage, $"Reference {reference}.");

    /// <summary>A page or download that shows such a refusal says so to programs as well.</summary>
    private static void TooMany(HttpResponse response, int seconds)
    {
        response.StatusCode = StatusCodes.Status429TooManyRequests;
        response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
    }

    private void Protect(IHeaderDictionary headers, bool https)
    {
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=(), payment=(), usb=()";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        if (headers.ContentSecurityPolicy.Count == 0) headers.ContentSecurityPolicy = Nothing;
        if (headers.CacheControl.Count == 0) headers.CacheControl = "no-store";
        if (settings.Https && https) headers.StrictTransportSecurity = "max-age=31536000; includeSubDomains";
    }

    private static Task SendToHttps(HttpContext http)
    {
        if ((HttpMethods.IsGet(http.Request.Method) || HttpMethods.IsHead(http.Request.Method)) && !Door.IsApi(http))
        {
            http.Response.Redirect($"https://{http.Request.Host.Host}{http.Request.Path}{http.Request.QueryString}", permanent: true, preserveMethod: true);
            return Task.CompletedTask;
        }
        return Answer(http, StatusCodes.Status403Forbidden, new("HTTPS_NEEDED", "This shop answers over https only.",
            "Send it to the https address; what you just sent went over the network for everybody to read, so change any password or token in it."));
    }

    /// <summary>A refusal in the shape in which the request would have been answered.</summary>
    public static Task Answer(HttpContext http, int status, Refusal refusal)
    {
        if (Door.IsApi(http)) return http.RequestServices.GetRequiredService<GraphQlEndpoint>().Refuse(http, status, refusal);
        http.Response.StatusCode = status;
        return ShopPages.Page<ClosedPage>(http, (nameof(ClosedPage.Refusal), refusal)).ExecuteAsync(http);
    }
}
