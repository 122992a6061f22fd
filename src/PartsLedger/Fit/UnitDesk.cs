using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>Finds tagged units and pairs by what is printed on them, and writes down what happens to them.</summary>
public sealed class UnitDesk(LedgerContext db)
{
    public async Task<Outcome<UnitRow>> Unit(string tag, CancellationToken cancellation)
    {
        var read = Tag.Read(tag);
        if (!read.Succeeded) return read.Refusal;
        var key = Tag.KeyOf(read.Result);
        var unit = await Units().SingleOrDefaultAsync(row => row.TagKey == key, cancellation);
        return unit is null ? UnitRefusals.UnknownTag(read.Result) : unit;
    }

    /// <summary>The units with these ids, by id.</summary>
    public async Task<Dictionary<int, UnitRow>> Units(IReadOnlyList<int> ids, CancellationToken cancellation)
    {
        var found = new Dictionary<int, UnitRow>();
        foreach (var some in ids.Chunk(900))
            foreach (var unit in await Units().Where(row => some.Contains(row.Id)).ToListAsync(cancellation)) found.Add(unit.Id, unit);
        return found;
    }

    /// <summary>The pair with this code, or the pair that a half with this tag belongs to.</summary>
    public async Task<Outcome<PairRow>> Pair(string code, CancellationToken cancellation)
    {
        var read = Tag.Read(code);
        if (!read.Succeeded) return read.Refusal;
        var key = Tag.KeyOf(read.Result);
        var pair = await Pairs().SingleOrDefaultAsync(row => row.CodeKey == key, cancellation)
            ?? await Pairs().SingleOrDefaultAsync(row => row.Halves.Any(half => half.TagKey == key), cancellation);
        return pair is null ? UnitRefusals.UnknownPair(read.Result) : pair;
    }

    /// <summary>No unit, pair or core carries this tag yet.</summary>
    public async Task<Outcome<string>> NewTag(string? tag, CancellationToken cancellation)
    {
        var read = Tag.Read(tag);
        if (!read.Succeeded) return read.Refusal;
        var key = Tag.KeyOf(read.Result);
        var taken = await db.Units.AnyAsync(row => row.TagKey == key, cancellation) ? "a unit"
            : await db.Pairs.AnyAsync(row => row.CodeKey == key, cancellation) ? "a pair"
            : await db.Cores.AnyAsync(row => row.TagKey == key, cancellation) ? "a core" : null;
        return taken is null ? read.Result : UnitRefusals.TagTaken(read.Result, taken);
    }

    public void Write(ActContext context, string requestId, string what, string? detail = null, string? why = null,
        int? coreId = null, int? unitId = null, int? pairId = null) => db.UnitEvents.Add(new UnitEventRow
        {
            What = what, Detail = detail, Why = why, CoreId = coreId, UnitId = unitId, PairId = pairId, At = context.Now,
            Who = context.Caller.Name, RequestId = requestId,
        });

    private IQueryable<UnitRow> Units() => db.Units.Include(row => row.Family).Include(row => row.PressureClass).Include(row => row.Location)
        .Include(row => row.Part).Include(row => row.Core).Include(row => row.Pair!.Location).Include(row => row.Pair!.Halves);

    private IQueryable<PairRow> Pairs() => db.Pairs.Include(row => row.Family).Include(row => row.PressureClass).Include(row => row.Location)
        .Include(row => row.Halves).ThenInclude(half => half.Part);
}

/// <summary>The halves of a pair by their role.</summary>
public static class PairHalves
{
    public static UnitRow? Housing(this PairRow pair) => pair.Halves.Find(half => half.Role == UnitRole.Housing);

    public static UnitRow? Valve(this PairRow pair) => pair.Halves.Find(half => half.Role == UnitRole.Valve);

    /// <summary>"H-0001 and V-0001".</summary>
    public static string Tags(this PairRow pair) => string.Join(" and ", pair.Halves.OrderBy(half => half.Role).Select(half => half.Tag));

    public static string Place(this PairRow pair) => pair.Location?.Code ?? (pair.State == PairState.Together ? "no place" : Words.Of(pair.State));
}
