using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// What was written to the ledger since a cursor, in an order that never changes: another program that keeps the last cursor follows the
/// ledger without missing or repeating anything, whatever is written meanwhile. Every follower gets the same order.
/// </summary>
public static class LedgerFeed
{
    public const int MaxFirst = 500;
    private const string CursorKind = "feed";

    /// <param name="After">The cursor of the last entry taken; null begins with the first transaction of all.</param>
    /// <param name="First">At most so many entries, 1 to <see cref="MaxFirst"/>.</param>
    [AllowedToEveryone]
    public sealed record Query(string? After = null, int First = 100) : IQuery<Answer>;

    /// <param name="Cursor">Where to go on next time; also given when nothing is new.</param>
    /// <param name="More">There is more to be had at once.</param>
    public sealed record Answer(IReadOnlyList<Entry> Entries, string Cursor, bool More);

    /// <param name="Cursor">Where to go on after this entry.</param>
    /// <param name="Reverses">The number of the transaction that this one takes back.</param>
    public sealed record Entry(
        string Cursor, long Transaction, string Act, DateTimeOffset At, string Who, string? Why, string? BelongsTo, string? Reference, long? Reverses,
        string RequestId, IReadOnlyList<Line> Lines);

    /// <param name="Place">Null when the pieces came from or went to the outside world.</param>
    /// <param name="Quantity">Above zero what came, below zero what left.</param>
    public sealed record Line(
        string Part, string? Place, OutsideWorld? Outside, string? Lot, StockCondition Condition, Quantity Quantity, Money UnitCost, Money Value);

    public sealed class Handler(LedgerContext db, FeedPublisher publisher) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            if (query.First is < 1 or > MaxFirst)
                return new Refusal("BAD_PAGE_SIZE", $"A page of {query.First} cannot be had.", $"Ask for 1 to {MaxFirst} at a time and go on after the last cursor.");
            var after = 0L;
            if (query.After is { } cursor
                && !long.TryParse(Cursor.Read(CursorKind, cursor), NumberStyles.None, CultureInfo.InvariantCulture, out after)) return PageRequest.BadCursor;

            // Places first, then reading: what another follower gives a place in between is read too, so that whatever was committed before
            // the question is in the answer.
            await publisher.Publish(cancellation);
            var entries = await Read(after, query.First + 1, cancellation);
            if (entries.Count == 0 && after > 0 && !await db.StockFeed.AnyAsync(row => row.Position == after, cancellation))
                return new Refusal("CURSOR_AHEAD", "The ledger does not reach as far as this cursor: the database was put back to an earlier moment.",
                    "Follow the ledger again from its beginning, or from a cursor of that moment.");

            var taken = entries.Take(query.First).ToList();
            var lines = taken.Count == 0 ? null : await Lines(after, taken[^1].Position, cancellation);
            return new Answer(
                [.. taken.Select(row => new Entry(Write(row.Position), row.Id, row.Act, row.At, row.Who, row.Why, row.BelongsTo, row.Reference, row.Reverses,
                    row.RequestId, [.. lines![row.Id]]))],
                Write(taken.Count == 0 ? after : taken[^1].Position), entries.Count > query.First);
        }

        private Task<List<Row>> Read(long after, int count, CancellationToken cancellation) =>
            db.StockFeed.AsNoTracking().Where(row => row.Position > after).OrderBy(row => row.Position).Take(count)
                .Select(row => new Row(row.Position, row.TransactionId, row.Transaction.Act, row.Transaction.At, row.Transaction.Who, row.Transaction.Why,
                    row.Transaction.BelongsTo, row.Transaction.BelongsToRef, row.Transaction.ReversesId, row.Transaction.RequestId))
                .ToListAsync(cancellation);

        private async Task<ILookup<long, Line>> Lines(long after, long upTo, CancellationToken cancellation)
        {
            var rows = await db.StockFeed.AsNoTracking().Where(row => row.Position > after && row.Position <= upTo)
                .SelectMany(row => row.Transaction.Lines).OrderBy(line => line.Id)
                .Select(line => new
                {
                    line.TransactionId, line.Part.Number, Place = line.Location!.Code, line.Outside, Lot = line.Lot!.Code, line.Condition, line.Quantity,
                    line.UnitCost, line.Value,
                }).ToListAsync(cancellation);
            return rows.ToLookup(row => row.TransactionId, row => new Line(
                row.Number, row.Place, row.Outside, row.Lot, row.Condition, row.Quantity, row.UnitCost, row.Value));
        }

        private static string Write(long position) => Cursor.Write(CursorKind, position.ToString(CultureInfo.InvariantCulture));

        private sealed record Row(
            long Position, long Id, string Act, DateTimeOffset At, string Who, string? Why, string? BelongsTo, string? Reference, long? Reverses, string RequestId);
    }
}
