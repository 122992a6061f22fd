using System.Globalization;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>
/// Gives committed entries of the audit their places and hashes, one after the other without gaps. Two sealers at once collide on the key
/// of the place, and the one that loses runs again. So the chain never makes an act wait for another.
/// </summary>
public sealed class AuditSealer(LedgerContext db, DatabaseAddress address)
{
    /// <summary>So many entries get their place in one go.</summary>
    public const int Batch = 500;

    /// <summary>Seals everything that is committed.</summary>
    public async Task SealAll(CancellationToken cancellation)
    {
        while (await Seal(cancellation) >= Batch) cancellation.ThrowIfCancellationRequested();
    }

    /// <summary>An entry's hash, as it stands in its seal if nothing was changed.</summary>
    public static string HashOf(AuditEntryRow entry, long place, string before) => AuditChain.Next(before, place,
        entry.Id, Instant.ToMicroseconds(entry.At).ToString(CultureInfo.InvariantCulture), entry.Who, Words.Of(entry.Kind), entry.What, entry.About,
        entry.Code, entry.RequestId, Words.Of(entry.Way), entry.Address);

    private async Task<int> Seal(CancellationToken cancellation)
    {
        for (var run = 1; ; run++)
        {
            try
            {
                return await Once(cancellation);
            }
            catch (Exception lost) when (run < Dispatcher.MaxRuns && (address.Database.IsUniqueViolation(lost) || address.Database.IsLostRace(lost)))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(RandomNumberGenerator.GetInt32(1, Math.Min(4 << Math.Min(run, 5), 100))), cancellation);
            }
        }
    }

    private async Task<int> Once(CancellationToken cancellation)
    {
        // Asked outside the transaction: who reads an audit in which nothing is new keeps nobody from writing.
        if (!await db.AuditWaiting.AnyAsync(cancellation)) return 0;

        using var turn = await address.Database.TurnToWrite(address.Connection, cancellation);
        await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
        var last = await db.AuditSeals.AsNoTracking().OrderByDescending(row => row.Position).Select(row => new { row.Position, row.Hash })
            .FirstOrDefaultAsync(cancellation);
        var waiting = await db.AuditWaiting.AsNoTracking().OrderBy(row => row.EntryId).Select(row => row.Entry).Take(Batch).ToListAsync(cancellation);
        var (place, hash, seals) = (last?.Position ?? 0, last?.Hash ?? AuditChain.Beginning, new SqlBatch());
        foreach (var entry in waiting)
        {
            hash = HashOf(entry, ++place, hash);
            seals.Add($"insert into audit_seals (position, entry_id, hash) values ({place}, {entry.Id}, {hash})");
        }
        seals.Add($"delete from audit_waiting where entry_id in (select s.entry_id from audit_seals s where s.position > {last?.Position ?? 0})");
        await seals.Execute(db, cancellation);
        await transaction.CommitAsync(cancellation);
        return waiting.Count;
    }
}

/// <summary>Seals every few seconds while the program serves, so that little can be changed before it is held fast.</summary>
public sealed class AuditSealing(IServiceScopeFactory scopes, TimeProvider clock, ILogger<AuditSealing> log) : BackgroundService
{
    public static readonly TimeSpan Every = TimeSpan.FromSeconds(5);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every, clock);
        var wasWell = true;
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken)) wasWell = await Seal(wasWell, stoppingToken);
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // What waits is sealed by whoever reads or serves next.
        }
    }

    private async Task<bool> Seal(bool wasWell, CancellationToken stopping)
    {
        try
        {
            await using var scope = scopes.CreateAsyncScope();
            await scope.ServiceProvider.GetRequiredService<AuditSealer>().SealAll(stopping);
            return true;
        }
        catch (Exception problem) when (!stopping.IsCancellationRequested)
        {
            // Said once and not every few seconds; entries wait as long as they must.
            if (wasWell) log.LogWarning(problem, "The audit could not be sealed; it is tried again every {Seconds} seconds", Every.TotalSeconds);
            return false;
        }
    }
}
