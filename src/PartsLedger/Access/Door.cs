using Microsoft.AspNetCore.Authorization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Access;

/// <summary>
/// Stands before every address. Once the shop has a person nobody passes without a session or a token; until then only callers at this very
/// machine do. An endpoint that says <see cref="IAllowAnonymous"/> is open to whoever comes, who then may still do nothing.
/// </summary>
public sealed class Door(RequestDelegate next, ThisMachine machine, IDatabase database, AuditDesk audit, GraphQlLimits limits, ILogger<Door> log)
{
    private const string Bearer = "Bearer ";

    /// <summary>People are never deleted, so what was found once stays true.</summary>
    private volatile bool _hasPeople;

    public async Task InvokeAsync(HttpContext http, CurrentCaller current, LedgerContext db, SignIn signIn, TokenDesk tokens)
    {
        current.Until = http.RequestAborted;
        var known = await LookOrNothing(http, db, signIn, tokens);
        current.Caller = From(http, known.Succeeded ? known.Result : current.Caller);
        if (!known.Succeeded && http.GetEndpoint()?.Metadata.GetMetadata<IAllowAnonymous>() is null)
        {
            await Refuse(http, known.Refusal);
            return;
        }
        await next(http);
    }

    /// <summary>A door that cannot find out stays shut, but for what is open to everybody anyway: health says itself what is wrong.</summary>
    private async Task<Outcome<Caller>> LookOrNothing(HttpContext http, LedgerContext db, SignIn signIn, TokenDesk tokens)
    {
        using var time = CancellationTokenSource.CreateLinkedTokenSource(http.RequestAborted);
        time.CancelAfter(limits.Time);
        try
        {
            var known = await Look(http, db, signIn, tokens, time.Token);
            if (!known.Succeeded && known.Refusal == TokenDesk.BadToken)
                await audit.Refused(From(http, new Caller(Caller.Nobody)), "ShowToken", known.Refusal.Code, time.Token);
            return known;
        }
        catch (OperationCanceledException) when (!http.RequestAborted.IsCancellationRequested)
        {
            return TimedOut;
        }
        catch (Exception away) when (database.IsUnreachable(away))
        {
            return Dispatcher.DatabaseAway;
        }
        catch (Exception bug) when (bug is not OperationCanceledException)
        {
            var reference = Shield.NewReference();
            log.LogError(bug, "The door could not find out who asks for {Path}; reference {Reference}", http.Request.Path, reference);
            return Shield.Failed(reference);
        }
    }

    private async Task<Outcome<Caller>> Look(HttpContext http, LedgerContext db, SignIn signIn, TokenDesk tokens, CancellationToken cancellation)
    {
        if (http.Request.Headers.Authorization.ToString() is { Length: > 0 } shown)
            return shown.StartsWith(Bearer, StringComparison.OrdinalIgnoreCase)
                ? await tokens.Whose(shown[Bearer.Length..].Trim(), cancellation) : TokenDesk.BadToken;
        if (await Sessions.WhoIsHere(http, signIn, cancellation) is { } person) return person;
        if (!_hasPeople) _hasPeople = await db.People.AnyAsync(cancellation);
        if (_hasPeople) return NotSignedIn;
        return machine.Sent(http) ? Caller.ThisMachine : NotSetUp;
    }

    private static Caller From(HttpContext http, Caller caller) =>
        caller with { Way = IsApi(http) ? Way.Api : Way.Page, Address = http.Connection.RemoteIpAddress?.ToString() };

    public static bool IsApi(HttpContext http) => http.Request.Path.StartsWithSegments("/graphql", StringComparison.Ordinal);

    public static Refusal NotSignedIn { get; } = new("NOT_SIGNED_IN", "Nobody is signed in here.",
        "Sign in at /sign-in, or send a token: Authorization: Bearer pl_….");

    public static Refusal NotSetUp { get; } = new("NOT_SET_UP", "This shop is not set up yet: until it is, it answers only at its own machine.",
        "Follow the set-up link that `partsledger serve` printed when it started; it is good once and for an hour.");

    private static Refusal TimedOut { get; } = new("TIMED_OUT", "The database takes too long to say who is asking.", "Try again in a moment.");

    private static Task Refuse(HttpContext http, Refusal refusal)
    {
        var status = refusal == TimedOut || refusal == Dispatcher.DatabaseAway ? StatusCodes.Status503ServiceUnavailable
            : refusal.Code == ErrorMasking.InternalCode ? StatusCodes.Status500InternalServerError
            : refusal == NotSetUp ? StatusCodes.Status403Forbidden : StatusCodes.Status401Unauthorized;
        if (status == StatusCodes.Status401Unauthorized) http.Response.Headers.WWWAuthenticate = "Bearer";
        if (refusal == NotSignedIn && !IsApi(http) && (HttpMethods.IsGet(http.Request.Method) || HttpMethods.IsHead(http.Request.Method)))
        {
            http.Response.Headers.WWWAuthenticate = default;
            http.Response.Redirect("/sign-in" + QueryString.Create("to", http.Request.Path + http.Request.QueryString));
            return Task.CompletedTask;
        }
        return Shield.Answer(http, status, refusal);
    }
}
