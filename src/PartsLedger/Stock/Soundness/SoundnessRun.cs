using System.ComponentModel.DataAnnotations.Schema;
using System.Diagnostics.CodeAnalysis;
using System.Runtime.CompilerServices;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock.Soundness;

/// <summary>
/// One verification: what has been written since the verified point, as of one moment, and what was found and counted. Statements go over the
/// new transactions in chunks, so that neither the database nor the program holds more than a chunk and the balances' sums at a time.
/// </summary>
public sealed class SoundnessRun(LedgerContext db, VerifiedPoint since, VerifiedPoint upTo, (long First, long Last)? unfed, Costing costing)
{
    /// <summary>Transactions that one statement goes over.</summary>
    public const long ChunkSize = 50_000;

    /// <summary>Breaches of one rule that are named; the rest is counted.</summary>
    public const int Named = 50;

    /// <summary>Stands in a <c>from</c> for the transactions of one chunk; see the questions asked by chunk.</summary>
    public const string Fresh = "(the transactions of this chunk)";

    // One or the other, never both in one statement: over a union of them every database goes through the whole ledger.
    private const string Fed = "(select transaction_id from stock_feed where position > {0} and position <= {1})";
    private const string Unfed = "(select transaction_id from stock_unfed where transaction_id > {0} and transaction_id <= {1})";

    private readonly List<Breach> _breaches = [];
    private readonly Dictionary<string, int> _perRule = new(StringComparer.Ordinal);
    private Dictionary<Pile, PileChange>? _changes;

    public LedgerContext Db { get; } = db;

    /// <summary>Where this run begins; <see cref="VerifiedPoint.Beginning"/> in a full one.</summary>
    public VerifiedPoint Since { get; } = since;

    /// <summary>The end of the feed and the highest transaction at this moment.</summary>
    public VerifiedPoint UpTo { get; } = upTo;

    public Costing Costing { get; } = costing;

    public bool IsFull => Since == VerifiedPoint.Beginning;

    public IReadOnlyList<Breach> Breaches => [.. _breaches, .. _perRule.Where(rule => rule.Value > Named)
        .Select(rule => new Breach(rule.Key, "elsewhere", $"{rule.Value - Named} more breaches of this rule are not named."))];

    public bool IsSound => _breaches.Count == 0;

    /// <summary>How much was looked at.</summary>
    public SoundnessCounts Counted { get; set; } = new(0, 0, 0, 0, 0, 0, 0);

    public void Found(ISoundnessRule rule, string where, string what)
    {
        _perRule[rule.Code] = _perRule.GetValueOrDefault(rule.Code) + 1;
        if (_perRule[rule.Code] <= Named) _breaches.Add(new Breach(rule.Code, where, what));
    }

    /// <summary>Asks about every chunk of new transactions in turn, those without a place in the feed last.</summary>
    /// <param name="sql">Reads <see cref="Fresh"/>; one text for every database.</param>
    public async IAsyncEnumerable<T> Ask<T>(string sql, [EnumeratorCancellation] CancellationToken cancellation)
    {
        foreach (var chunk in Chunks())
            foreach (var row in await Ask<T>(sql, chunk, cancellation))
                yield return row;
    }

    /// <summary>What the new transactions changed in each pile.</summary>
    public async Task<IReadOnlyDictionary<Pile, PileChange>> Changes(CancellationToken cancellation)
    {
        if (_changes is not null) return _changes;
        _changes = [];
        var lines = 0L;
        foreach (var chunk in Chunks())
            foreach (var row in await Ask<ChangeRow>(ChangesSql, chunk, cancellation))
            {
                lines += row.Lines;
                if (row.LocationId == 0) continue;
                var pile = new Pile(row.PartId, row.LocationId, row.LotSlot, row.Condition);
                _changes[pile] = _changes.GetValueOrDefault(pile).And(chunk.IsUnfed, row.Quantity, row.Value);
            }
        Counted = Counted with { Lines = lines };
        return _changes;
    }

    /// <summary>The part's number, for naming a breach.</summary>
    public async Task<string> Part(int partId, CancellationToken cancellation) =>
        await Db.Parts.AsNoTracking().Where(row => row.Id == partId).Select(row => row.Number).SingleOrDefaultAsync(cancellation) ?? $"with id {partId}";

    /// <summary>A pile in the shop's words, for naming a breach.</summary>
    public async Task<string> Name(Pile pile, CancellationToken cancellation)
    {
        var place = await Db.Locations.AsNoTracking().Where(row => row.Id == pile.LocationId).Select(row => row.Code).SingleOrDefaultAsync(cancellation);
        var lot = pile.LotSlot == 0 ? null
            : await Db.Lots.AsNoTracking().Where(row => row.Id == pile.LotSlot).Select(row => row.Code).SingleOrDefaultAsync(cancellation);
        return $"part {await Part(pile.PartId, cancellation)} in {place ?? $"place {pile.LocationId}"}{(lot is null ? "" : $", lot {lot}")}, {pile.Condition}";
    }

    private IEnumerable<Chunk> Chunks()
    {
        for (var after = Since.Position; after < UpTo.Position; after += ChunkSize)
            yield return new Chunk(after, Math.Min(after + ChunkSize, UpTo.Position), IsUnfed: false);
        if (unfed is var (first, last)) yield return new Chunk(first - 1, last, IsUnfed: true);
    }

    [SuppressMessage("Security", "EF1002", Justification = "Every statement is a constant of a rule; only numbers are filled in, as parameters.")]
    private Task<List<T>> Ask<T>(string sql, Chunk chunk, CancellationToken cancellation) =>
        Db.Database.SqlQueryRaw<T>(sql.Replace(Fresh, chunk.IsUnfed ? Unfed : Fed, StringComparison.Ordinal), chunk.After, chunk.UpTo).ToListAsync(cancellation);

    private const string ChangesSql = $"""
        select l.part_id, coalesce(l.location_id, 0) as location_id, coalesce(l.lot_id, 0) as lot_slot, l.condition,
            cast(sum(l.quantity) as bigint) as quantity, cast(sum(l.value) as bigint) as value, cast(count(*) as bigint) as lines
        from {Fresh} t join stock_lines l on l.transaction_id = t.transaction_id
        group by l.part_id, coalesce(l.location_id, 0), coalesce(l.lot_id, 0), l.condition
        """;

    /// <summary>A run of places in the feed, or of transactions that have none yet.</summary>
    private readonly record struct Chunk(long After, long UpTo, bool IsUnfed);

    private sealed record ChangeRow(
        [property: Column("part_id")] int PartId, [property: Column("location_id")] int LocationId, [property: Column("lot_slot")] int LotSlot,
        [property: Column("condition")] string Condition, [property: Column("quantity")] long Quantity, [property: Column("value")] long Value,
        [property: Column("lines")] long Lines);
}

/// <summary>Pieces of a part in one place, lot (0 for none) and condition: what one balance is about.</summary>
public readonly record struct Pile(int PartId, int LocationId, int LotSlot, string Condition);

/// <summary>What the ledger's lines changed in a pile, in thousandths and ten-thousandths: up to the feed's end, and by transactions not in it yet.</summary>
public readonly record struct PileChange(long Fed, long Unfed, long FedValue, long UnfedValue)
{
    public long Quantity => Fed + Unfed;

    public long Value => FedValue + UnfedValue;

    public PileChange And(bool unfed, long quantity, long value) => unfed
        ? this with { Unfed = Unfed + quantity, UnfedValue = UnfedValue + value } : this with { Fed = Fed + quantity, FedValue = FedValue + value };
}

/// <summary>How much a verification looked at: what is new since the verified point, and balances, reservations and pairs as they are.</summary>
public sealed record SoundnessCounts(long Transactions, long Lines, long Balances, long Reservations, long Requests, long Pairs, long AuditEntries);
