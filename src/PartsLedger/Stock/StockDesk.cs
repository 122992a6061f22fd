using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

/// <summary>A part as acts on stock need to know it.</summary>
public sealed record StockPart(int Id, string Number, Tracking Tracking, bool WholePieces);

/// <summary>A place in the shop.</summary>
public sealed record StockPlace(int Id, string Code, LocationKind Kind);

/// <summary>A lot of one part.</summary>
public sealed record StockLot(int Id, int PartId, string Code, DateOnly? ExpiresOn);

/// <summary>A lot, or none.</summary>
public sealed record MaybeLot(StockLot? Lot);

/// <summary>What one place holds of a part, in one lot and condition. Free is what nobody has reserved.</summary>
public sealed record StockBalance(
    long Id, StockPlace Place, int? LotId, string? Lot, DateOnly? ExpiresOn, StockCondition Condition, Quantity OnHand, Quantity Reserved)
{
    public Quantity Free => OnHand - Reserved;

    /// <summary>In good condition and in no quarantine place: what counts as available.</summary>
    public bool IsGood => Condition != StockCondition.Quarantine && Place.Kind != LocationKind.Quarantine;

    public Slot Slot => Slot.In(Place.Id, LotId, Condition);
}

/// <summary>A place, or none.</summary>
public sealed record MaybePlace(StockPlace? Place);

/// <summary>A part, the place it is in and the lot it is of, all known to exist.</summary>
public sealed record NamedPieces(StockPart Part, StockPlace Place, StockLot? Lot);

/// <summary>Turns what people write into the ledger's rows, with the refusal that fits when there is no such thing.</summary>
public sealed class StockDesk(LedgerContext db, StockReader reader)
{
    public async Task<Outcome<StockPart>> Part(string number, CancellationToken cancellation) =>
        await reader.Part(db, PartNumber.Canonical(number), cancellation) is { } part ? part : StockRefusals.UnknownPart(number);

    /// <summary>The number of a part that is known to exist.</summary>
    public Task<string> Number(int partId, CancellationToken cancellation) =>
        db.Parts.AsNoTracking().Where(row => row.Id == partId).Select(row => row.Number).SingleAsync(cancellation);

    public async Task<Outcome<StockPlace>> Place(string code, CancellationToken cancellation)
    {
        var key = Code.KeyOf(code);
        var row = await db.Locations.AsNoTracking().Where(row => row.CodeKey == key)
            .Select(row => new { row.Id, row.Code, row.Kind }).SingleOrDefaultAsync(cancellation);
        return row is null ? StockRefusals.UnknownLocation(code) : new StockPlace(row.Id, row.Code, row.Kind);
    }

    /// <summary>The place, or none when none was given.</summary>
    public async Task<Outcome<MaybePlace>> PlaceIfGiven(string? code, CancellationToken cancellation)
    {
        if (string.IsNullOrWhiteSpace(code)) return new MaybePlace(null);
        var place = await Place(code, cancellation);
        return place.Succeeded ? new MaybePlace(place.Result) : place.Refusal;
    }

    /// <summary>The lot of this part. A code that only another part's lot has is refused as that.</summary>
    public async Task<Outcome<StockLot>> Lot(StockPart part, string code, CancellationToken cancellation)
    {
        var key = Code.KeyOf(code);
        var row = await db.Lots.AsNoTracking().Where(row => row.CodeKey == key).OrderBy(row => row.PartId == part.Id ? 0 : 1).ThenBy(row => row.Id)
            .Select(row => new { row.Id, row.PartId, row.Code, row.ExpiresOn, Part = row.Part.Number }).FirstOrDefaultAsync(cancellation);
        if (row is null) return StockRefusals.UnknownLot(code, part.Number);
        return row.PartId == part.Id ? new StockLot(row.Id, row.PartId, row.Code, row.ExpiresOn)
            : StockRefusals.LotOfAnotherPart(code, part.Number, row.Part);
    }

    /// <summary>The lot of this part, or none when none was given.</summary>
    public async Task<Outcome<MaybeLot>> LotIfGiven(StockPart part, string? code, CancellationToken cancellation)
    {
        if (string.IsNullOrWhiteSpace(code)) return new MaybeLot(null);
        var lot = await Lot(part, code, cancellation);
        return lot.Succeeded ? new MaybeLot(lot.Result) : lot.Refusal;
    }

    /// <summary>Part, place and lot as one line names them, or the first of them that there is not.</summary>
    public async Task<Outcome<NamedPieces>> Pieces(string part, string place, string? lot, CancellationToken cancellation)
    {
        var ofPart = await Part(part, cancellation);
        if (!ofPart.Succeeded) return ofPart.Refusal;
        var inPlace = await Place(place, cancellation);
        if (!inPlace.Succeeded) return inPlace.Refusal;
        var ofLot = await LotIfGiven(ofPart.Result, lot, cancellation);
        return ofLot.Succeeded ? new NamedPieces(ofPart.Result, inPlace.Result, ofLot.Result.Lot) : ofLot.Refusal;
    }

    /// <summary>The lot, made when it is new: only a receipt or a split makes lots.</summary>
    public async Task<StockLot> LotOrNew(
        StockPart part, string code, DateOnly? curedOn, DateOnly? expiresOn, CancellationToken cancellation)
    {
        var key = Code.KeyOf(code);
        var row = await db.Lots.SingleOrDefaultAsync(row => row.PartId == part.Id && row.CodeKey == key, cancellation);
        if (row is null)
        {
            row = new LotRow { PartId = part.Id, Code = code.Trim(), CodeKey = key, CuredOn = curedOn, ExpiresOn = expiresOn };
            db.Lots.Add(row);
            await db.SaveChangesAsync(cancellation);
        }
        return new StockLot(row.Id, row.PartId, row.Code, row.ExpiresOn);
    }
}

/// <summary>Units that are counted in whole pieces.</summary>
public static class PieceUnit
{
    private static readonly HashSet<string> Whole = new(StringComparer.OrdinalIgnoreCase) { "pc", "pcs", "piece", "pieces", "ea", "each", "set", "pair" };

    public static bool IsWhole(string unit) => Whole.Contains(unit.Trim());
}
