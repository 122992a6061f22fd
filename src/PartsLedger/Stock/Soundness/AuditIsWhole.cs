using Microsoft.EntityFrameworkCore;
using PartsLedger.Access;
using PartsLedger.Domain.Access;

namespace PartsLedger.Stock.Soundness;

/// <summary>
/// The audit is as it was written: places run from 1 without gaps, every hash is that of its entry and the hash before, no entry is without a
/// place that does not wait for one, and the chain still reaches through where it was last verified.
/// </summary>
internal sealed class AuditIsWhole : ISoundnessRule
{
    private const int Chunk = 5_000;

    public string Code => "AUDIT_IS_WHOLE";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        var since = run.Since;
        var kept = await run.Db.AuditSeals.Where(row => row.Position == since.Audit).Select(row => row.Hash).SingleOrDefaultAsync(cancellation);
        if (since.Audit > 0 && kept != since.AuditHash)
        {
            run.Found(this, $"place {since.Audit}", kept is null
                ? "The audit was verified up to here and does not reach so far any more." : "This is not the entry up to which the audit was verified.");
            return;
        }
        await Chain(run, cancellation);
        await NoneBeside(run, cancellation);
    }

    /// <summary>Goes along the chain to the first place where it is broken; what comes after that says nothing more.</summary>
    private async Task Chain(SoundnessRun run, CancellationToken cancellation)
    {
        var (place, hash) = (run.Since.Audit, run.Since.Audit > 0 ? run.Since.AuditHash : AuditChain.Beginning);
        for (var more = true; more;)
        {
            var after = place;
            var seals = await run.Db.AuditSeals.AsNoTracking().Where(row => row.Position > after && row.Position <= run.UpTo.Audit).OrderBy(row => row.Position)
                .Take(Chunk).GroupJoin(run.Db.AuditEntries.AsNoTracking(), seal => seal.EntryId, entry => entry.Id, (seal, entries) => new { seal, entries })
                .SelectMany(both => both.entries.DefaultIfEmpty(), (both, entry) => new { both.seal.Position, both.seal.Hash, Entry = entry })
                .OrderBy(row => row.Position).ToListAsync(cancellation);
            foreach (var seal in seals)
            {
                if (Broken(++place, seal.Position, seal.Entry is null ? null : AuditSealer.HashOf(seal.Entry, place, hash), seal.Hash) is { } broken)
                {
                    run.Found(this, $"place {place}", broken);
                    return;
                }
                hash = seal.Hash;
            }
            more = seals.Count == Chunk;
        }
        run.Counted = run.Counted with { AuditEntries = place - run.Since.Audit };
    }

    private static string? Broken(long expected, long place, string? hash, string kept) =>
        place != expected ? "The entry of this place is missing."
        : hash is null ? "The entry that was sealed here is missing."
        : hash != kept ? "The entry is not the one that was sealed here, or not what it was." : null;

    /// <summary>In a run from the verified point only entries since then: one added with an earlier time is found by a full one.</summary>
    private async Task NoneBeside(SoundnessRun run, CancellationToken cancellation)
    {
        var from = await run.Db.AuditSeals.Where(row => row.Position == run.Since.Audit).Select(row => (DateTimeOffset?)row.Entry.At).SingleOrDefaultAsync(cancellation)
            ?? DateTimeOffset.UnixEpoch;
        var beside = await run.Db.AuditEntries.AsNoTracking().Where(entry => entry.At >= from
            && !run.Db.AuditSeals.Any(seal => seal.EntryId == entry.Id) && !run.Db.AuditWaiting.Any(waiting => waiting.EntryId == entry.Id))
            .OrderBy(entry => entry.Id).Select(entry => entry.Id).Take(SoundnessRun.Named).ToListAsync(cancellation);
        foreach (var id in beside) run.Found(this, $"entry {id}", "It has no place in the audit and does not wait for one.");
    }
}
