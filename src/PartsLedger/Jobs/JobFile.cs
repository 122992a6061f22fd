using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Testing;

namespace PartsLedger.Jobs;

/// <summary>All that is known of a job, as its papers print it.</summary>
public static class JobFile
{
    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(string Job) : IQuery<Answer>;

    /// <param name="Pair">What was scanned into the pump; null where no matched pair was.</param>
    public sealed record Answer(
        JobByNumber.Answer Job, FittedPair? Pair, PullList.Answer ToPull, IReadOnlyList<ShortLine> Shorts,
            IReadOnlyList<SurplusLine> Surplus, BenchRuns.Answer Testing,
        IReadOnlyList<History.Entry> History);

    /// <param name="Found">The shims as found at tear-down, in words.</param>
    /// <param name="Fitted">The shims as fitted, in words.</param>
    public sealed record FittedPair(string Code, string Housing, string Valve, string PressureClass, string Found, string Fitted);

    public sealed record ShortLine(string Part, Quantity Quantity, string? Substitute, Quantity? SubstituteQuantity, string Why);

    /// <param name="Lot">The lot in stock; null where it was kept with the kit.</param>
    public sealed record SurplusLine(string Pack, string? PackLot, string Part, Quantity Quantity, string? Lot);

    public sealed class Handler(
        LedgerContext db, JobDesk desk, IQueryHandler<JobByNumber.Query, JobByNumber.Answer> jobs, IQueryHandler<PullList.Query,
            PullList.Answer> pulls,
        IQueryHandler<BenchRuns.Query, BenchRuns.Answer> testing, IQueryHandler<History.Query, History.Answer> histories)
            : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var found = await desk.Job(query.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var shorts = await db.JobShorts.AsNoTracking().Where(row => row.JobId == job.Id).OrderBy(row => row.Id)
                .Select(row => new ShortLine(row.Part.Number, row.Quantity, row.Substitute!.Number, row.SubstituteQuantity, row.Why))
                .ToListAsync(cancellation);
            var surplus = await db.JobSurplus.AsNoTracking().Where(row => row.JobId == job.Id).OrderBy(row => row.Id)
                .Select(row => new SurplusLine(row.Pack.Number, row.PackLot!.Code, row.Part.Number, row.Quantity, row.Lot!.Code))
                .ToListAsync(cancellation);
            return new Answer((await jobs.Handle(new(job.Number), cancellation)).Result, await Fitted(job, cancellation),
                (await pulls.Handle(new(job.Number), cancellation)).Result, shorts, surplus,
                (await testing.Handle(new(job.Number), cancellation)).Result,
                [.. (await histories.Handle(new(job.Number, new PageRequest(100_000, null)), cancellation))
                .Result.Entries.Entries.Select(entry => entry.Item)]);
        }

        private async Task<FittedPair?> Fitted(Data.Jobs.JobRow job, CancellationToken cancellation)
        {
            if (job.PairId is not { } id) return null;
            var pair = await db.Pairs.AsNoTracking().Include(row => row.PressureClass).Include(row => row.Halves)
                .SingleAsync(row => row.Id == id, cancellation);
            var valve = pair.Valve();
            return new FittedPair(pair.Code, pair.Housing()?.Tag ?? "", valve?.Tag ?? "", pair.PressureClass.Code,
                Shims(valve?.ShimCount, valve?.ShimStack),
                Shims(job.FittedShimCount, job.FittedShimStack));
        }

        private static string Shims(int? count, Length? stack) => count is null ? "not recorded"
            : FormattableString.Invariant($"{count} shims{(stack is { } thick ? FormattableString.Invariant($", {thick.ToMillimetres():0.000} mm") : "")}");
    }
}
