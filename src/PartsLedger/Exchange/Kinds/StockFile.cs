using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Hosting;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Exchange.Reading;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Exchange.Kinds;

/// <summary>A row of an opening count: what was found of a part in a place, in one lot or none. What is not in that condition is not there.</summary>
public sealed record OpeningCount(
    NamedPart Part, Named Location, string? Lot, Quantity Quantity, StockCondition Condition);

/// <summary>
/// The opening count. What differs from the ledger is posted against the opening account as one transaction per file, at the part's
/// own cost; the same file again posts nothing.
/// </summary>
public sealed class StockFile : FileKind<OpeningCount, (int Part, int Location, string Lot)>
{
    private static readonly NamedPart NoPart = new(0, "", "", "", Tracking.Bulk, Money.Zero);
    private static readonly Named NoPlace = new(0, "", "");

    private Register<NamedPart> _parts = null!;
    private Register<Named> _locations = null!;

    public override string Name => "stock";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("part"), Column.Key("location"), Column.OptionalKey("lot"), Column.Needed("quantity"), Column.Optional("condition"),
    ];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) =>
        (_parts, _locations) = (await run.Registers.Parts(), await run.Registers.Locations());

    protected override OpeningCount Read(RowCells cells)
    {
        var (part, location) = (_parts.Find(cells, "part"), _locations.Find(cells, "location"));
        var (lot, quantity) = (cells.OptionalText("lot", Limits.Code), cells.Quantity("quantity", zeroAllowed: true));
        var condition = cells.Word("condition", StockCondition.New, condition => condition != StockCondition.Quarantine);
        if (part is not null)
        {
            if (PieceUnit.IsWhole(part.Unit)) cells.RequireWhole("quantity", quantity, part.Number, part.Unit);
            if (part.Tracking != Tracking.Bulk && lot is null)
                cells.Reject("lot", $"Part {part.Number} is tracked by {Words.Of(part.Tracking)}; say which {(part.Tracking == Tracking.Lot ? "lot" : "serial number")} this is.");
            if (part.Tracking == Tracking.Serial && quantity > Quantity.FromWhole(1))
                cells.Reject("quantity", $"Part {part.Number} is tracked one by one; a serial number is one piece.");
        }
        return new OpeningCount(part ?? NoPart, location ?? NoPlace, lot, quantity, condition);
    }

    protected override (int Part, int Location, string Lot) KeyOf(OpeningCount row) => (row.Part.Id, row.Location.Id, Code.KeyOf(row.Lot));

    protected override async Task Apply(
        KindRun run, IReadOnlyList<Judged<OpeningCount, (int Part, int Location, string Lot)>> rows, CancellationToken cancellation)
    {
        var lots = await run.Db.Lots.AsNoTracking().Select(row => new { row.Id, row.PartId, row.CodeKey })
            .ToDictionaryAsync(row => (row.PartId, row.CodeKey), row => row.Id, cancellation);
        var before = await Balances(run, cancellation);
        var begun = rows.Where(row => Differs(row, lots, before)).Select(row => row.Row.Part.Id).ToHashSet();
        await run.Ledger.Begin(begun, run.Context.Now, cancellation);

        // Until the turn was ours somebody may have changed what we read; what we read now stays true until the commit.
        if (begun.Count > 0) before = await Balances(run, cancellation);
        foreach (var row in rows)
        {
            if (Differs(row, lots, before) && !begun.Contains(row.Row.Part.Id)) throw new RaceLost();
            Judge(run, row, lots, before);
        }
        RefuseSerialsInTwoPlaces(run, rows, lots, before);

        var taken = rows.Where(row => !run.IsRejected(row.Line)).ToList();
        await AddLots(run, taken, lots, cancellation);
        var movements = taken.SelectMany(row => Movements(row.Row, lots, before)).ToList();
        foreach (var row in taken)
        {
            if (!Differs(row, lots, before)) run.Unchanged++;
            else if (At(row, lots, before).All(balance => balance.OnHand == Quantity.Zero)) run.New++;
            else run.Changed++;
        }
        if (movements.Count > 0) await Post(run, movements, cancellation);
    }

    /// <summary>One balance that is not empty.</summary>
    private sealed record Balance(int Part, int Location, int LotSlot, string Place, StockCondition Condition, Quantity OnHand, Quantity Reserved);

    private static async Task<ILookup<(int Part, int Location, int LotSlot), Balance>> Balances(KindRun run, CancellationToken cancellation) =>
        (await run.Db.StockBalances.AsNoTracking().Where(row => row.OnHand != Quantity.Zero)
            .Select(row => new Balance(row.PartId, row.LocationId, row.LotSlot, row.Location.Code, row.Condition, row.OnHand, row.Reserved))
            .ToListAsync(cancellation)).ToLookup(row => (row.Part, row.Location, row.LotSlot));

    private static IEnumerable<Balance> At(
        Judged<OpeningCount, (int Part, int Location, string Lot)> row, Dictionary<(int, string), int> lots,
        ILookup<(int Part, int Location, int LotSlot), Balance> before) =>
        SlotOf(row.Row, lots) is { } slot ? before[(row.Row.Part.Id, row.Row.Location.Id, slot)] : [];

    /// <summary>0 for no lot; null for a lot that is not known yet.</summary>
    private static int? SlotOf(OpeningCount row, Dictionary<(int, string), int> lots) =>
        row.Lot is null ? 0 : lots.TryGetValue((row.Part.Id, Code.KeyOf(row.Lot)), out var id) ? id : null;

    private static bool Differs(
        Judged<OpeningCount, (int Part, int Location, string Lot)> row, Dictionary<(int, string), int> lots,
        ILookup<(int Part, int Location, int LotSlot), Balance> before)
    {
        var there = At(row, lots, before).ToList();
        return row.Row.Quantity == Quantity.Zero ? there.Count > 0
            : there.Count != 1 || there[0].Condition != row.Row.Condition || there[0].OnHand != row.Row.Quantity;
    }

    private static void Judge(
        KindRun run, Judged<OpeningCount, (int Part, int Location, string Lot)> row, Dictionary<(int, string), int> lots,
        ILookup<(int Part, int Location, int LotSlot), Balance> before)
    {
        foreach (var balance in At(row, lots, before))
        {
            var counted = balance.Condition == row.Row.Condition ? row.Row.Quantity : Quantity.Zero;
            if (counted < balance.Reserved)
                run.Reject(row.Line, "quantity", $"{balance.Reserved} {Words.Of(balance.Condition)} of {row.Row.Part.Number} in {row.Row.Location.Code} are reserved for jobs; the count of {counted} would take them away. Release them first.");
        }
    }

    /// <summary>A serial number is one piece and lies in one place.</summary>
    private static void RefuseSerialsInTwoPlaces(
        KindRun run, IReadOnlyList<Judged<OpeningCount, (int Part, int Location, string Lot)>> rows, Dictionary<(int, string), int> lots,
        ILookup<(int Part, int Location, int LotSlot), Balance> before)
    {
        var serials = rows.Where(row => row.Row.Part.Tracking == Tracking.Serial && !run.IsRejected(row.Line)).ToList();
        if (serials.Count == 0) return;
        var elsewhere = before.SelectMany(group => group).ToLookup(balance => (balance.Part, balance.LotSlot));
        var counted = serials.Select(row => row.Key).ToHashSet();
        var places = new Dictionary<(int, string), string>();
        foreach (var row in serials.Where(row => row.Row.Quantity > Quantity.Zero))
        {
            var other = SlotOf(row.Row, lots) is not { } slot ? null : elsewhere[(row.Row.Part.Id, slot)].FirstOrDefault(balance =>
                balance.Location != row.Row.Location.Id && !counted.Contains((balance.Part, balance.Location, row.Key.Lot)))?.Place;
            if (other is null && !places.TryAdd((row.Key.Part, row.Key.Lot), $"{row.Row.Location.Code} (line {row.Line})"))
                other = places[(row.Key.Part, row.Key.Lot)];
            if (other is not null)
                run.Reject(row.Line, "lot", $"Serial number {row.Row.Lot} of {row.Row.Part.Number} already lies in {other}; one piece cannot lie in two places.");
        }
    }

    private static async Task AddLots(
        KindRun run, List<Judged<OpeningCount, (int Part, int Location, string Lot)>> rows, Dictionary<(int, string), int> lots,
        CancellationToken cancellation)
    {
        var made = new Dictionary<(int, string), LotRow>();
        foreach (var (_, row, key) in rows.Where(row => row.Row.Lot is not null && row.Row.Quantity > Quantity.Zero))
            if (!lots.ContainsKey((key.Part, key.Lot)) && !made.ContainsKey((key.Part, key.Lot)))
                made.Add((key.Part, key.Lot), new LotRow { PartId = key.Part, Code = row.Lot!, CodeKey = key.Lot });
        foreach (var chunk in made.Values.Chunk(ChunkSize))
        {
            run.Db.Lots.AddRange(chunk);
            await run.Db.SaveChangesAsync(cancellation);
            run.Db.ChangeTracker.Clear();
        }
        foreach (var (key, row) in made) lots.Add(key, row.Id);
    }

    /// <summary>What is too few in the counted condition comes in; what is too many, and everything in another condition, goes out.</summary>
    private static IEnumerable<Movement> Movements(
        OpeningCount row, Dictionary<(int, string), int> lots, ILookup<(int Part, int Location, int LotSlot), Balance> before)
    {
        if (SlotOf(row, lots) is not { } slot) yield break;
        int? lot = slot == 0 ? null : slot;
        var there = before[(row.Part.Id, row.Location.Id, slot)].ToDictionary(balance => balance.Condition, balance => balance.OnHand);
        foreach (var condition in there.Keys.Append(row.Condition).Distinct().Order())
        {
            var counted = condition == row.Condition ? row.Quantity : Quantity.Zero;
            var change = counted - there.GetValueOrDefault(condition);
            var (inside, outside) = (Slot.In(row.Location.Id, lot, condition), Slot.Out(OutsideWorld.Opening, lot, condition));
            if (change > Quantity.Zero) yield return new Movement(row.Part.Id, change, outside, inside, row.Part.Cost);
            else if (change < Quantity.Zero) yield return new Movement(row.Part.Id, -change, inside, outside);
        }
    }

    private static async Task Post(KindRun run, List<Movement> movements, CancellationToken cancellation)
    {
        var id = "import-" + Guid.NewGuid().ToString("n");
        await run.Ledger.Post(new Posting("count", id, "opening count", "count", "opening"), movements, run.Context, cancellation);

        // Every ledger transaction answers to a request; this one's id was made here and nobody can send it again.
        run.Db.Requests.Add(new RequestRow
        {
            RequestId = id, Kind = "ImportStock", Fingerprint = "import", Answer = "{}",
            At = run.Context.Now, Who = run.Context.Caller.Name,
        });
        await run.Db.SaveChangesAsync(cancellation);
        run.Db.ChangeTracker.Clear();
    }
}
