using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Access;
using PartsLedger.Data;
using PartsLedger.Data.Hosting;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>
/// The one door. Pages, GraphQL, commands and the importer all send their requests here: is it allowed, is it not too often, validate, begin, decide,
/// append, commit.
/// An act that loses a race is run again from the start, a bounded number of times, so that no caller sees a deadlock or a lost update.
/// </summary>
public sealed class Dispatcher(IServiceScopeFactory scopes, DatabaseAddress address, AuditDesk audit, Rates rates, TimeProvider clock)
{
    private readonly IDatabase _database = address.Database;

    // Asked by every act that is run again, so it is compiled once for the database.
    private readonly Func<LedgerContext, string, CancellationToken, Task<RequestRow?>> _earlier = EF.CompileAsyncQuery(
        (LedgerContext db, string requestId, CancellationToken _) =>
            db.Requests.AsNoTracking().SingleOrDefault(row => row.RequestId == requestId));

    /// <summary>Runs of one act before it is refused as <c>BUSY</c>.</summary>
    public const int MaxRuns = 24;

    public Task<Outcome<TAnswer>> Ask<TQuery, TAnswer>(TQuery query, Caller caller, CancellationToken cancellation)
        where TQuery : IQuery<TAnswer> where TAnswer : notnull =>
        Telemetry.Watch<TQuery, TAnswer>(caller, () => Answer<TQuery, TAnswer>(query, caller, cancellation));

    public Task<Outcome<TAnswer>> Send<TAct, TAnswer>(TAct act, Caller caller, CancellationToken cancellation)
        where TAct : IAct<TAnswer> where TAnswer : notnull =>
        Telemetry.Watch<TAct, TAnswer>(caller, () => Do<TAct, TAnswer>(act, caller, cancellation));

    private async Task<Outcome<TAnswer>> Answer<TQuery, TAnswer>(TQuery query, Caller caller, CancellationToken cancellation)
        where TQuery : IQuery<TAnswer> where TAnswer : notnull
    {
        try
        {
            if (Permission.WhyNot(typeof(TQuery), caller) is { } notAllowed) return await WriteDown<TQuery>(caller, notAllowed, cancellation);
            if (rates.WhyNotNow(typeof(TQuery), caller) is { } tooMany) return await WriteDown<TQuery>(caller, tooMany, cancellation);
            await using var scope = scopes.CreateAsyncScope();
            if (Validate(scope.ServiceProvider, query) is { } refusal) return refusal;
            var outcome = await scope.ServiceProvider.GetRequiredService<IQueryHandler<TQuery, TAnswer>>().Handle(query, cancellation);
            // Written down before it is shown: what cannot be written down is not seen.
            if (outcome.Succeeded && WrittenDownAttribute.IsOn(typeof(TQuery))) await audit.Saw(caller, UseCase.Of(typeof(TQuery)), cancellation);
            return outcome;
        }
        catch (Exception lost) when (_database.IsUnreachable(lost))
        {
            return DatabaseAway;
        }
    }

    private async Task<Outcome<TAnswer>> Do<TAct, TAnswer>(TAct act, Caller caller, CancellationToken cancellation)
        where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        if ((Permission.WhyNot(typeof(TAct), caller) ?? rates.WhyNotNow(typeof(TAct), caller)) is { } refused)
        {
            try
            {
                return await WriteDown<TAct>(caller, refused, cancellation);
            }
            catch (Exception lost) when (_database.IsUnreachable(lost))
            {
                return DatabaseAway;
            }
        }
        if (string.IsNullOrWhiteSpace(act.RequestId) || act.RequestId.Length > 100)
            return new Refusal("REQUEST_ID_MISSING", "The request has no usable request id.",
                "Choose an id of 1 to 100 characters, a new one for every new act, and send it again unchanged when trying again.");

        var fingerprint = Fingerprint(act);
        for (var run = 1; ; run++)
        {
            try
            {
                await using var scope = scopes.CreateAsyncScope();
                return await Run<TAct, TAnswer>(scope.ServiceProvider, act, fingerprint, caller, isNew: run == 1, cancellation);
            }
            catch (Exception again) when (run == 1 && (again is TooLargeToKeep || _database.IsUniqueViolation(again)))
            {
                // It may be an act that was done before: the second run looks.
            }
            catch (Exception lost) when (run < MaxRuns && LostRace(lost))
            {
                // Full jitter, growing to about 100 ms: callers that collided do not collide again in step.
                await Task.Delay(TimeSpan.FromMilliseconds(RandomNumberGenerator.GetInt32(1, Math.Min(4 << Math.Min(run, 5), 100))), cancellation);
            }
            catch (TooLargeToKeep)
            {
                return new Refusal("TOO_LARGE", "A quantity or a value would become larger than can be kept.", "Check the quantities and the costs.");
            }
            catch (Exception lost) when (LostRace(lost))
            {
                return new Refusal("BUSY", "Too many others changed the same stock at the same moment.", "Try again with the same request id.");
            }
            catch (Exception lost) when (_database.IsUnreachable(lost))
            {
                return DatabaseAway;
            }
        }
    }

    /// <param name="isNew">
    /// The request id is taken to be new, as it almost always is; where it is not, writing it down fails on the key, nothing is kept, and
    /// the act is run again to look for its first answer.
    /// </param>
    private async Task<Outcome<TAnswer>> Run<TAct, TAnswer>(
        IServiceProvider services, TAct act, string fingerprint, Caller caller, bool isNew, CancellationToken cancellation)
        where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        if (Validate(services, act) is { } invalid) return invalid;
        var db = services.GetRequiredService<LedgerContext>();

        // What fails ends the whole act, so nothing is ever rolled back to a point within it.
        db.Database.AutoSavepointsEnabled = false;
        using var turn = await _database.TurnToWrite(address.Connection, cancellation);
        await using var transaction = await db.Database.BeginTransactionAsync(cancellation);

        if (!isNew && await _earlier(db, act.RequestId, cancellation) is { } earlier) return Repeat<TAnswer>(earlier, fingerprint);

        var context = new ActContext(db, caller, clock.GetUtcNow());
        var outcome = await services.GetRequiredService<IActHandler<TAct, TAnswer>>().Handle(act, context, cancellation);

        // A refused act has written nothing (Decide comes before the first write); what it answered is remembered all the same.
        if (!outcome.Succeeded) db.ChangeTracker.Clear();
        await db.SaveChangesAsync(cancellation);
        var answer = JsonSerializer.Serialize(
            outcome.Succeeded ? new StoredAnswer<TAnswer>(outcome.Result, null) : new StoredAnswer<TAnswer>(default, outcome.Refusal),
            ShopJson.Options);
        var kind = UseCase.Of(typeof(TAct));
        var written = new SqlBatch();
        written.Add($"""
            insert into requests (request_id, kind, fingerprint, answer, at, who)
            values ({act.RequestId}, {kind}, {fingerprint}, {answer}, {Instant.ToMicroseconds(context.Now)}, {caller.Name})
            """);
        if (outcome.Succeeded) AuditDesk.Add(written, new(AuditKind.Did, kind, Concern.Of(act), null, act.RequestId), caller, context.Now);
        else if (WrittenDownAttribute.IsOn(typeof(TAct)))
            AuditDesk.Add(written, new(AuditKind.Refused, kind, null, outcome.Refusal.Code, act.RequestId), caller, context.Now);
        await written.Execute(db, cancellation);
        await transaction.CommitAsync(cancellation);
        return outcome;
    }

    private async Task<Refusal> WriteDown<TRequest>(Caller caller, Refusal refusal, CancellationToken cancellation)
    {
        await audit.Refused(caller, UseCase.Of(typeof(TRequest)), refusal.Code, cancellation);
        return refusal;
    }

    private static Outcome<TAnswer> Repeat<TAnswer>(RequestRow earlier, string fingerprint) where TAnswer : notnull
    {
        if (earlier.Fingerprint != fingerprint)
            return new Refusal("REQUEST_ID_REUSED", $"The request id {earlier.RequestId} was already used for something else ({earlier.Kind}).",
                "Choose a new request id for a new act.");
        var stored = JsonSerializer.Deserialize<StoredAnswer<TAnswer>>(earlier.Answer, ShopJson.Options);
        Invariant.Holds(stored is not null);
        if (stored.Refusal is { } refusal) return refusal;
        Invariant.Holds(stored.Result is not null);
        return stored.Result;
    }

    public static Refusal DatabaseAway { get; } = new("DATABASE_AWAY", "The database does not answer.",
        "Try again in a moment, an act with the same request id: if it was done after all, nothing is done twice.");

    private bool LostRace(Exception problem) =>
        problem is DbUpdateConcurrencyException or RaceLost || _database.IsLostRace(problem) || _database.IsUniqueViolation(problem);

    private static Refusal? Validate<TRequest>(IServiceProvider services, TRequest request)
    {
        if (services.GetService<IValidator<TRequest>>() is not { } validator) return null;
        var failure = validator.Validate(request).Errors.FirstOrDefault();
        return failure is null ? null
            : new Refusal(failure.ErrorCode, failure.ErrorMessage, failure.CustomState as string ?? "Correct it and send again with a new request id.");
    }

    private static string Fingerprint<TAct>(TAct act) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(UseCase.Of(typeof(TAct)) + JsonSerializer.Serialize(act, ShopJson.Options))));

    private sealed record StoredAnswer<TAnswer>(TAnswer? Result, Refusal? Refusal);
}

/// <summary>What was read is no longer so: another caller came first. The dispatcher runs the act again.</summary>
public sealed class RaceLost() : Exception("Another caller changed the same rows first.");

/// <summary>What would be written is larger than the numbers it is kept in. The dispatcher takes back the act and refuses it.</summary>
public sealed class TooLargeToKeep() : Exception("A number would be too large to keep.");
