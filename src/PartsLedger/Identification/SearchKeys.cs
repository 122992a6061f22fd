using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Identification;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Identification;

/// <summary>
/// The forms by which numbers and machines are found forgivingly, kept in plain indexed columns so that every database finds the same. Part
/// and alias rows carry their own; the words of machines are written here.
/// </summary>
public static class SearchKeys
{
    private const int ChunkSize = 2_000;

    /// <summary>Writes the words of every application with a higher id than <paramref name="after"/>. Saves, and leaves nothing tracked.</summary>
    public static async Task IndexMachines(LedgerContext db, int after, CancellationToken cancellation)
    {
        var ids = await db.MachineWords.AsNoTracking().ToDictionaryAsync(row => row.Word, row => row.Id, StringComparer.Ordinal, cancellation);
        while (true)
        {
            var chunk = await db.Applications.AsNoTracking().Where(row => row.Id > after).OrderBy(row => row.Id).Take(ChunkSize)
                .Select(row => new { row.Id, row.Make, row.Model, row.Option }).ToListAsync(cancellation);
            if (chunk.Count == 0) return;
            after = chunk[^1].Id;

            var words = chunk.ConvertAll(row => (row.Id, Words: MachineWord.Indexed(row.Make, row.Model, row.Option)));
            List<MachineWordRow> unknown = [.. words.SelectMany(row => row.Words).Where(word => !ids.ContainsKey(word)).Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal).Select(word => new MachineWordRow { Word = word })];
            db.AddRange(unknown);
            await db.SaveChangesAsync(cancellation);
            foreach (var row in unknown) ids.Add(row.Word, row.Id);

            db.AddRange(words.SelectMany(row => row.Words, (row, word) => new ApplicationWordRow { WordId = ids[word], ApplicationId = row.Id }));
            await db.SaveChangesAsync(cancellation);
            db.ChangeTracker.Clear();
        }
    }

    /// <summary>Fills in what a database written by an older program lacks. A database that lacks nothing is asked three short questions.</summary>
    public static async Task FillMissing(LedgerContext db, CancellationToken cancellation)
    {
        while (await Fold(db, db.Parts.Where(row => row.FoldedKey == ""), row => row.NumberKey = row.NumberKey, cancellation)) { }
        while (await Fold(db, db.Aliases.Where(row => row.FoldedKey == ""), row => row.NumberKey = row.NumberKey, cancellation)) { }
        if (await db.Applications.AnyAsync(cancellation) && !await db.ApplicationWords.AnyAsync(cancellation)) await IndexMachines(db, 0, cancellation);
    }

    private static async Task<bool> Fold<TRow>(LedgerContext db, IQueryable<TRow> unfolded, Action<TRow> setAgain, CancellationToken cancellation)
    {
        var rows = await unfolded.Take(ChunkSize).ToListAsync(cancellation);
        rows.ForEach(setAgain);
        await db.SaveChangesAsync(cancellation);
        db.ChangeTracker.Clear();
        return rows.Count > 0;
    }
}
