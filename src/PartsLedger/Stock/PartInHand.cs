using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock;

/// <summary>What the shop has of a part whose turn was taken (see <see cref="Ledger.Begin"/>): true until the commit.</summary>
/// <param name="Costing">The shop's choice as it is kept, or null while nobody has chosen.</param>
/// <param name="Balances">Everything there is of it, first to expire first, then by the place's code.</param>
/// <param name="Open">What anybody has reserved of it, first to free up first.</param>
public sealed record PartInHand(
    int PartId, Quantity OnHand, Money Value, Money ListCost, string? Costing, IReadOnlyList<StockBalance> Balances,
    IReadOnlyList<OpenReservation> Open)
{
    public Shelf Shelf(StockPart part) => new(part, Balances, Open);
}
