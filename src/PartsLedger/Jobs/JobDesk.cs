using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Kits;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>What an act on a job did, in words.</summary>
public sealed record JobActed(string Job, JobState State, string Done);

/// <summary>Pieces of one part and lot that the job has taken out of stock and not given back.</summary>
public sealed record PiecesInHand(int PartId, string Part, int? LotId, string? Lot, Quantity Quantity, Money Worth);

/// <summary>Finds jobs by their number, reads what they have, and writes down what happens to them.</summary>
public sealed class JobDesk(LedgerContext db, KitCatalogueReader catalogue)
{
    public async Task<Outcome<JobRow>> Job(string number, CancellationToken cancellation)
    {
        var key = Code.KeyOf(number);
        var job = await db.Jobs.Include(row => row.Core).Include(row => row.Variant!.Family).Include(row => row.Variant!.PressureClass)
            .Include(row => row.Candidates).ThenInclude(row => row.Variant).AsSplitQuery().SingleOrDefaultAsync(row => row.NumberKey == key,
            cancellation);
        return job is null ? WorkRefusals.UnknownJob(number, await Numbers(cancellation)) : job;
    }

    private Task<List<string>> Numbers(CancellationToken cancellation) =>
        db.Jobs.AsNoTracking().OrderByDescending(row => row.Id).Select(row => row.Number).Take(2000).ToListAsync(cancellation);

    /// <summary>What was last found at each position that was looked at, by position.</summary>
    public async Task<IReadOnlyList<JobFindingRow>> Findings(int jobId, CancellationToken cancellation) =>
        [.. (await db.JobFindings.AsNoTracking().Where(row => row.JobId == jobId).OrderBy(row => row.Id).ToListAsync(cancellation))
            .GroupBy(row => row.Position).Select(group => group.Last()).OrderBy(row => row.Position)];

    /// <summary>The accepted list and the answer it was accepted as; null before the first.</summary>
    public async Task<AcceptedList?> List(JobRow job, CancellationToken cancellation)
    {
        var list = await db.JobLists.AsNoTracking().Include(row => row.Lines.OrderBy(line => line.Line)).ThenInclude(line => line.Part)
            .Include(row => row.Lines).ThenInclude(line => line.Pair)
            .SingleOrDefaultAsync(row => row.JobId == job.Id && row.Revision == job.ListRevision, cancellation);
        return list is null ? null : new AcceptedList(list, JsonSerializer.Deserialize<KitAnswer>(list.Answer, ShopJson.Options)!);
    }

    /// <summary>
    /// Everything that the job has taken out of stock and not given back, by part number and lot; surplus that went back counts as given.
    /// </summary>
    public async Task<IReadOnlyList<PiecesInHand>> InHand(string jobKey, CancellationToken cancellation)
    {
        var lines = await db.StockLines.AsNoTracking()
            .Where(line => line.Outside == OutsideWorld.Job
                && ((line.Transaction.BelongsTo == JobWork.BelongsTo && line.Transaction.BelongsToRef == jobKey)
                    || (line.Transaction.Reverses!.BelongsTo == JobWork.BelongsTo && line.Transaction.Reverses!.BelongsToRef == jobKey)))
            .Select(line => new { line.PartId, line.Part.Number, line.LotId, Lot = line.Lot!.Code, line.Quantity, line.Value })
                .ToListAsync(cancellation);
        return [.. lines.GroupBy(line => (line.PartId, line.LotId))
            .Select(group => new PiecesInHand(group.Key.PartId, group.First().Number, group.Key.LotId, group.First().Lot,
            group.Total(line => line.Quantity),
                Money.FromTenThousandths(group.Sum(line => line.Value.TenThousandths))))
            .Where(pieces => pieces.Quantity != Quantity.Zero)
            .OrderBy(pieces => pieces.Part, StringComparer.Ordinal).ThenBy(pieces => pieces.Lot, StringComparer.Ordinal)];
    }

    /// <summary>What the job has reserved and what it has in hand, for each part by number.</summary>
    public async Task<JobPieces> Pieces(JobRow job, DateTimeOffset now, CancellationToken cancellation)
    {
        var reserved = (await Reservations.OfJob(db, job.NumberKey, cancellation)).Where(line => line.ExpiresAt > now).ToList();
        var inHand = await InHand(job.NumberKey, cancellation);
        var ids = reserved.Select(line => line.PartId).Distinct().ToArray();
        var numbers = await db.Parts.AsNoTracking().Where(row => ids.Contains(row.Id)).ToDictionaryAsync(row => row.Id, row => row.Number,
            cancellation);
        return new JobPieces(reserved, inHand, numbers);
    }

    /// <summary>The best list for the job as it stands now: with its findings, and with what it has already counted as available.</summary>
    public async Task<Outcome<KitAnswer>> Resolve(JobRow job, JobPieces pieces, CancellationToken cancellation)
    {
        Invariant.Holds(job.Variant is not null);
        var own = new OwnPieces(job.Number, job.IsExchange ? null : job.CoreId, pieces.ById);
        var worn = (await Findings(job.Id, cancellation)).Where(row => row.Finding != Finding.Good).Select(row => row.Position).ToList();
        return (await catalogue.Read(job.Variant.Code, cancellation, own)).Then(read =>
            KitAnswering.Answer(read, new KitQuestion(job.Variant.Code, job.JobScope, worn, job.Prefer), cancellation));
    }

    public void Write(ActContext context, string requestId, JobRow job, string what, string? detail = null, string? why = null) =>
        db.JobEvents.Add(new JobEventRow
    {
        Job = job, What = what, Detail = detail is { Length: > 2000 } ? detail[..2000] : detail, Why = why, At = context.Now,
        Who = context.Caller.Name,
        RequestId = requestId,
    });
}

/// <summary>A list as it was accepted.</summary>
public sealed record AcceptedList(JobListRow Row, KitAnswer Answer)
{
    public IReadOnlyList<ListedPieces> Lines => ListText.Of(Answer);
}

/// <summary>What a job has reserved and in hand.</summary>
/// <param name="Numbers">The numbers of the reserved parts.</param>
public sealed record JobPieces(IReadOnlyList<OpenReservation> Reserved, IReadOnlyList<PiecesInHand> InHand, IReadOnlyDictionary<int,
    string> Numbers)
{
    /// <summary>Reserved and in hand together, by part id.</summary>
    public IReadOnlyDictionary<int, Quantity> ById => Reserved.Select(line => (line.PartId, Pieces: line.Open))
        .Concat(InHand.Where(pieces => pieces.Quantity > Quantity.Zero).Select(pieces => (pieces.PartId, Pieces: pieces.Quantity)))
        .GroupBy(one => one.PartId).ToDictionary(group => group.Key, group => group.Total(one => one.Pieces));

    public IReadOnlyDictionary<string, Quantity> ReservedByNumber =>
        Reserved.GroupBy(line => Numbers[line.PartId]).ToDictionary(group => group.Key, group => group.Total(line => line.Open));

    public IReadOnlyDictionary<string, Quantity> InHandByNumber =>
        InHand.GroupBy(pieces => pieces.Part).ToDictionary(group => group.Key, group => group.Total(pieces => pieces.Quantity));
}
