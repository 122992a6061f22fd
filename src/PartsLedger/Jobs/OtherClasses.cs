using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;

namespace PartsLedger.Jobs;

/// <summary>Finds what does not belong into a pump of a class: parts of another, and packs that hold one at any depth.</summary>
public sealed class OtherClasses(LedgerContext db)
{
    /// <summary>The other class that a part is of or holds something of; null when it may go into the pump.</summary>
    public async Task<string?> Of(int partId, int classId, CancellationToken cancellation) => (await In([partId], classId, cancellation))
        .GetValueOrDefault(partId);

    /// <summary>Of these parts, those that are or hold something of another class, with that class.</summary>
    public async Task<IReadOnlyDictionary<int, string>> In(IReadOnlyCollection<int> partIds, int classId, CancellationToken cancellation)
    {
        var inside = await PackPieces.Of(db, partIds, cancellation);
        var other = new Dictionary<int, string>();
        foreach (var some in partIds.Concat(inside.Values.SelectMany(pack => pack.Keys)).Distinct().Chunk(900))
            foreach (var row in await db.Parts.AsNoTracking().Where(row => some.Contains(row.Id) && row.PressureClassId != null
                && row.PressureClassId != classId)
                .Select(row => new { row.Id, row.PressureClass!.Code }).ToListAsync(cancellation)) other.Add(row.Id, row.Code);
        return partIds.Distinct().Select(id => (Id: id, Class: inside.GetValueOrDefault(id)?.Keys.Prepend(id)
            .Select(part => other.GetValueOrDefault(part))
            .FirstOrDefault(code => code is not null) ?? other.GetValueOrDefault(id))).Where(one => one.Class is not null)
            .ToDictionary(one => one.Id, one => one.Class!);
    }
}
