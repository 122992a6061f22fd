using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Fit;

namespace PartsLedger.Stock.Soundness;

/// <summary>Both halves of a matched pair are in one place, which is the pair's: a pair that is together has one housing and one valve, no half has a place of its own.</summary>
internal sealed class PairsAreWhole : ISoundnessRule
{
    public string Code => "PAIRS_ARE_WHOLE";

    public async Task Check(SoundnessRun run, CancellationToken cancellation)
    {
        var parted = await run.Db.Units.AsNoTracking().Where(unit => unit.PairId != null && (unit.LocationId != null || unit.Job != null))
            .Select(unit => new { unit.Tag, Pair = unit.Pair!.Code }).ToListAsync(cancellation);
        foreach (var unit in parted) run.Found(this, $"unit {unit.Tag}", $"It is half of pair {unit.Pair} and has a place or a job of its own.");

        var halves = await run.Db.Pairs.AsNoTracking().Where(pair => pair.State == PairState.Together)
            .Where(pair => pair.Halves.Count(half => half.Role == UnitRole.Housing) != 1 || pair.Halves.Count(half => half.Role == UnitRole.Valve) != 1)
            .Select(pair => new { pair.Code, Halves = pair.Halves.Count }).ToListAsync(cancellation);
        foreach (var pair in halves) run.Found(this, $"pair {pair.Code}", $"It is together and has {pair.Halves} halves instead of one housing and one valve.");
        run.Counted = run.Counted with { Pairs = await run.Db.Pairs.LongCountAsync(cancellation) };
    }
}
