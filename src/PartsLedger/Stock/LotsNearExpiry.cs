using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>Lots on the shelf that have expired or will soon, first to expire first: rubber ages in the bag.</summary>
public static class LotsNearExpiry
{
    public const int MaxDays = 3650;

    /// <param name="WithinDays">Days from today, in UTC: 0 for what expires today or has expired, at most <see cref="MaxDays"/>.</param>
    [AllowedToEveryone]
    public sealed record Query(int WithinDays, PageRequest Page) : IQuery<Page<Lot>>;

    /// <param name="Expired">May no longer be used: the day it expires on is past.</param>
    /// <param name="DaysLeft">Days until it expires; below zero since it did.</param>
    /// <param name="Pieces">Where it lies.</param>
    public sealed record Lot(
        string Part, string Name, string Code, DateOnly? CuredOn, DateOnly ExpiresOn, bool Expired, int DaysLeft, Quantity OnHand, Quantity Reserved,
        IReadOnlyList<PiecesOnHand> Pieces);

    public sealed class Handler(LedgerContext db, TimeProvider clock) : IQueryHandler<Query, Page<Lot>>
    {
        public async Task<Outcome<Page<Lot>>> Handle(Query query, CancellationToken cancellation)
        {
            if (query.WithinDays is < 0 or > MaxDays)
                return new Refusal("DAYS_OUT_OF_RANGE", $"Lots that expire within {query.WithinDays} days cannot be had.", $"Give 0 to {MaxDays} days.");
            var now = clock.GetUtcNow();
            var today = DateOnly.FromDateTime(now.UtcDateTime);
            var until = today.AddDays(query.WithinDays);
            var lots = db.Lots.AsNoTracking()
                .Where(row => row.ExpiresOn <= until && db.StockBalances.Any(balance => balance.LotId == row.Id && balance.OnHand != Quantity.Zero));
            if (query.Page.After is { } after)
            {
                var parts = after.Split('.');
                if (parts.Length != 2 || !DateOnly.TryParseExact(parts[0], "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var on)
                    || !int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var id)) return PageRequest.BadCursor;
                lots = lots.Where(row => row.ExpiresOn > on || (row.ExpiresOn == on && row.Id > id));
            }
            var found = await lots.OrderBy(row => row.ExpiresOn).ThenBy(row => row.Id).Take(query.Page.First + 1)
                .Select(row => new { row.Id, row.Part.Number, row.Part.Name, row.Code, row.CuredOn, ExpiresOn = row.ExpiresOn!.Value })
                .ToListAsync(cancellation);
            var ids = found.ConvertAll(row => (int?)row.Id);
            var pieces = (await PiecesReader.Read(db, db.StockBalances.Where(row => ids.Contains(row.LotId)), now, cancellation))
                .ToLookup(row => row.LotId, row => row.Pieces);
            return Page.Of(query.Page, found, row => string.Create(CultureInfo.InvariantCulture, $"{row.ExpiresOn:yyyy-MM-dd}.{row.Id}"))
                .Select(row => new Lot(row.Number, row.Name, row.Code, row.CuredOn, row.ExpiresOn, PickOrder.IsExpired(row.ExpiresOn, today),
                    row.ExpiresOn.DayNumber - today.DayNumber, pieces[row.Id].Total(one => one.OnHand), pieces[row.Id].Total(one => one.Reserved),
                    [.. pieces[row.Id].OrderBy(one => one.Place, StringComparer.Ordinal)]));
        }
    }
}
