using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Cores;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Cores;

/// <summary>Finds cores by their tag.</summary>
public sealed class CoreDesk(LedgerContext db)
{
    public async Task<Outcome<CoreRow>> Core(string tag, CancellationToken cancellation)
    {
        var read = Tag.Read(tag);
        if (!read.Succeeded) return read.Refusal;
        var key = Tag.KeyOf(read.Result);
        var core = await db.Cores.Include(row => row.Family).Include(row => row.Variant!.PressureClass).Include(row => row.Findings)
            .SingleOrDefaultAsync(row => row.TagKey == key, cancellation);
        return core is null
            ? new Refusal("UNKNOWN_CORE", $"There is no core with the tag '{read.Result}'.", "Scan its tag again, or take the core in first.")
            : core;
    }

    /// <summary>What the shop still owes for the core.</summary>
    public async Task<Money> Owed(int coreId, CancellationToken cancellation) =>
        (await db.DepositEntries.Where(row => row.CoreId == coreId).Select(row => row.Amount).ToListAsync(cancellation))
        .Aggregate(Money.Zero, (sum, amount) => sum + amount);
}

/// <summary>The course of a core's life: from each state, what may come next.</summary>
public static class CoreCourse
{
    /// <summary>Null when the step may be taken; else the refusal that says what is possible now.</summary>
    public static Refusal? Refuse(CoreRow core, CoreState next) => Next(core.State).Contains(next) ? null : new Refusal("CORE_STEP_NOT_POSSIBLE",
        $"Core {core.Tag} is {Words(core.State)}; it cannot become {Words(next)}.",
        Next(core.State).Count == 0 ? "It has left: nothing more can be booked on it." : $"Possible now: {string.Join(", ", Next(core.State).Select(Words))}.");

    public static IReadOnlyList<CoreState> Next(CoreState state) => state switch
    {
        CoreState.Arrived => [CoreState.Graded, CoreState.SentBack, CoreState.Scrapped],
        CoreState.Graded => [CoreState.Graded, CoreState.TornDown, CoreState.SentBack, CoreState.Scrapped],
        CoreState.TornDown => [CoreState.Scrapped],
        CoreState.SentBack or CoreState.Scrapped => [],
        _ => throw new ArgumentOutOfRangeException(nameof(state)),
    };

    public static string Words(CoreState state) => Domain.Catalog.Words.Of(state).Replace('-', ' ');
}
