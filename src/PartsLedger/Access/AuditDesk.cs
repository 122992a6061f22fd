using System.Collections.Concurrent;
using System.Security.Cryptography;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>
/// Writes the audit. An act's entry goes with the act's own transaction (<see cref="Add"/>), so that neither is ever there without the other;
/// what was seen or refused has none and gets its own. Entries have no place in the chain yet: <see cref="AuditSealer"/> gives it.
/// </summary>
public sealed class AuditDesk(IServiceScopeFactory scopes, DatabaseAddress address, TimeProvider clock)
{
    // One document may ask for the same thing a thousand times; said once a second it says the same. Who is refused, once a minute: the audit must not be made long by asking in vain.
    private const int MostRemembered = 10_000;
    private readonly ConcurrentDictionary<Repeated, long> _lately = new();

    private static int _written;

    /// <param name="What">The use case.</param>
    /// <param name="About">Whom or what it concerned; never anything that was merely typed by somebody who is not known.</param>
    public sealed record Entry(AuditKind Kind, string What, string? About = null, string? Code = null, string? RequestId = null);

    public Task Saw(Caller caller, string what, CancellationToken cancellation) => OnceIn(TimeSpan.FromSeconds(1), caller, new(AuditKind.Saw, what), cancellation);

    public Task Refused(Caller caller, string what, string code, CancellationToken cancellation) =>
        OnceIn(TimeSpan.FromMinutes(1), caller, new(AuditKind.Refused, what, Code: code), cancellation);

    /// <summary>Writes one entry by itself.</summary>
    public async Task Write(Caller caller, Entry entry, CancellationToken cancellation)
    {
        var batch = new SqlBatch();
        Add(batch, entry, caller, clock.GetUtcNow());
        for (var run = 1; ; run++)
        {
            try
            {
                await using var scope = scopes.CreateAsyncScope();
                var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
                using var turn = await address.Database.TurnToWrite(address.Connection, cancellation);
                await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
                await batch.Execute(db, cancellation);
                await transaction.CommitAsync(cancellation);
                return;
            }
            catch (Exception lost) when (run < Dispatcher.MaxRuns && address.Database.IsLostRace(lost))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(RandomNumberGenerator.GetInt32(1, 50)), cancellation);
            }
        }
    }

    /// <summary>Adds an entry to statements that are executed in the caller's transaction.</summary>
    public static void Add(SqlBatch batch, Entry entry, Caller caller, DateTimeOffset at)
    {
        // By time, then in the order in which this copy of the program wrote them, then unlike any other copy's.
        var id = $"{Instant.ToMicroseconds(at):x14}{Interlocked.Increment(ref _written) & 0xffffff:x6}{Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(6))}";
        batch.Add($"""
            insert into audit_entries (id, at, who, kind, what, about, code, request_id, way, address)
            values ({id}, {Instant.ToMicroseconds(at)}, {caller.Name}, {Words.Of(entry.Kind)}, {entry.What}, {Short(entry.About)}, {entry.Code},
                {entry.RequestId}, {Words.Of(caller.Way)}, {Short(caller.Address)})
            """);
        batch.Add($"insert into audit_waiting (entry_id) values ({id})");
    }

    private async Task OnceIn(TimeSpan time, Caller caller, Entry entry, CancellationToken cancellation)
    {
        var (key, now) = (new Repeated(caller.Name, caller.Way, caller.Address, entry), clock.GetUtcNow().UtcTicks / time.Ticks);
        if (_lately.TryGetValue(key, out var last) && last == now) return;
        await Write(caller, entry, cancellation);
        if (_lately.Count >= MostRemembered) _lately.Clear();
        _lately[key] = now;
    }

    private static string? Short(string? text) => text is { Length: > Code.MaxLength } ? text[..Code.MaxLength] : text;

    private sealed record Repeated(string Who, Way Way, string? Address, Entry Entry);
}
