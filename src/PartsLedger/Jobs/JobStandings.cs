using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Fit;
using PartsLedger.Testing;

namespace PartsLedger.Jobs;

/// <summary>Reads where a job stands: all that its course depends on (see <see cref="JobCourse"/>).</summary>
public sealed class JobStandings(LedgerContext db, JobDesk desk, JobShelf shelf, JobSurplus surplus, OtherClasses classes,
    CheckDesk checkDesk)
{
    public async Task<JobStanding> Of(JobRow job, DateTimeOffset now, CancellationToken cancellation) => (await Read(job, now, cancellation)).Standing;

    /// <summary>Where it stands, with what was read to know it.</summary>
    public async Task<JobAsRead> Read(JobRow job, DateTimeOffset now, CancellationToken cancellation)
    {
        var pieces = await desk.Pieces(job, now, cancellation);
        var list = await desk.List(job, cancellation);
        var inHand = pieces.InHand.Where(one => one.Quantity > Quantity.Zero).ToList();
        var checks = await checkDesk.Checks(job, list, cancellation);
        var needs = await shelf.Needs(job, pieces.InHand, cancellation);
        var standing = new JobStanding(job.Number, job.State, job.Stopped, job.VariantId is not null, ToTearDown(job), job.IsExchange)
        {
            InHand = await NotOpened(job, inHand, cancellation),
            ToPull = [.. needs.Where(need => need.Left > Quantity.Zero).Select(need => $"{need.Left} of {need.Part}")],
            OtherClassParts = await OtherClassParts(job, inHand, cancellation),
            SurplusLeft = [.. (await surplus.Left(job, cancellation)).Select(left => $"{left.Quantity} of {left.Part} out of {left.Pack}")],
            PairFaults = await PairFaults(job,
            [.. inHand.Where(pieces => needs.Any(need => need.Part == pieces.Part && need.Wanted > Quantity.Zero))], cancellation),
            ChecksToDo = [.. checks.Where(check => check.Last is null).Select(check => check.Say)],
            ChecksToSign = [.. checks.Where(check => check.NeedsSignature).Select(check => check.Say)],
            Bench = (await db.BenchRuns.AsNoTracking().Where(row => row.JobId == job.Id).OrderByDescending(row => row.Run)
                .Select(row => new { row.Assembly, row.Verdict }).FirstOrDefaultAsync(cancellation)) is { } last
                && last.Assembly == job.Assembly ? last.Verdict : null,
        };
        return new JobAsRead(standing, pieces, list);
    }

    private static string? ToTearDown(JobRow job) => job is { IsExchange: false, Core: { } core } && core.State != CoreState.TornDown
        ? core.Tag : null;

    /// <summary>What could come back. A pack whose pieces were put away cannot: it is used up, whatever becomes of the job.</summary>
    private async Task<IReadOnlyList<string>> NotOpened(JobRow job, List<PiecesInHand> inHand, CancellationToken cancellation)
    {
        var opened = await db.JobSurplus.AsNoTracking().Where(row => row.JobId == job.Id).Select(row => new { row.PackId, row.PackLotId })
            .ToListAsync(cancellation);
        return [.. inHand.Where(pieces => !opened.Exists(pack => pack.PackId == pieces.PartId && pack.PackLotId == pieces.LotId))
            .Select(pieces => $"{pieces.Quantity} of {pieces.Part}{(pieces.Lot is null ? "" : $" (lot {pieces.Lot})")}")];
    }

    private async Task<IReadOnlyList<string>> OtherClassParts(JobRow job, List<PiecesInHand> inHand, CancellationToken cancellation)
    {
        if (job.Variant is null || inHand.Count == 0) return [];
        var other = await classes.In([.. inHand.Select(pieces => pieces.PartId)], job.Variant.PressureClassId, cancellation);
        return [.. inHand.Where(pieces => other.ContainsKey(pieces.PartId)).Select(pieces =>
            $"WRONG PRESSURE CLASS: give back {pieces.Part}, which is {other[pieces.PartId]}; the job is {job.Variant.PressureClass.Code}")
                .Distinct()];
    }

    /// <summary>
    /// What is wrong with the pair in the pump as it is now, whatever it was when it was scanned in: taken apart, kept for another,
    /// another class, or its shims no longer those that were counted.
    /// </summary>
    /// <param name="listed">What is in hand and on the list: an assembly that nobody asked for is not in the pump.</param>
    private async Task<IReadOnlyList<string>> PairFaults(JobRow job, List<PiecesInHand> listed, CancellationToken cancellation)
    {
        if (job.Variant is null || job.ListRevision == 0) return [];
        if (job.PairId is not { } pairId)
            return job.Variant.Family.ValveFit == ValveFit.Selective && !await BringsValve(listed, cancellation)
                ? ["scan both halves of the pair into the pump and count its shims"] : [];
        var pair = await db.Pairs.AsNoTracking().Include(row => row.Family).Include(row => row.PressureClass).Include(row => row.Halves)
            .SingleAsync(row => row.Id == pairId, cancellation);
        var faults = FitPairIntoPump.Faults(job, pair).Select(fault => fault.Sentence.TrimEnd('.')).ToList();
        if (pair.Valve() is { } valve && job.FittedShimCount is { } count && ConfirmShims.Decide(
            new ConfirmShims.Command("", valve.Tag, count, (job.FittedShimStack ?? Length.Zero).Nanometres),
                valve) is { } differ) faults.Add(differ.Sentence.TrimEnd('.'));
        return faults;
    }

    /// <summary>A valve or a housing with its valve comes in an assembly, fitted by its maker.</summary>
    private async Task<bool> BringsValve(List<PiecesInHand> inHand, CancellationToken cancellation)
    {
        var inside = (await PackPieces.Of(db, [.. inHand.Select(pieces => pieces.PartId)], cancellation))
            .Values.SelectMany(pack => pack.Keys).Distinct().ToList();
        return await db.Parts.AsNoTracking().AnyAsync(row => inside.Contains(row.Id) && row.Kind == PartKind.Valve, cancellation);
    }
}

/// <summary>A job's standing, and what was read on the way: nobody needs to read it again.</summary>
/// <param name="List">The accepted list; null before the first.</param>
public sealed record JobAsRead(JobStanding Standing, JobPieces Pieces, AcceptedList? List);
