using System.ComponentModel;
using GraphQL;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Stock;

/// <summary>What the API can be asked about where stock is, was and moved, and how to follow the ledger.</summary>
public sealed class LookupFields
{
    private const string PartText = "The part's number; case, spaces, dashes, dots and slashes do not matter. An unknown number is an error.";
    private const string PlaceText = "The place's code; case and spare spaces do not matter. An unknown code is an error.";

    private LookupFields() { }

    [Description("Everything the shop has of a part: every place, lot and condition, with what is reserved and what may be used.")]
    public static async Task<OnHandView> OnHand([FromServices] Asking asking, [Description(PartText)] string part, CancellationToken cancellation) =>
        new(await asking.Answer<OnHandOfPart.Query, OnHandOfPart.Answer>(new(part), cancellation));

    [Description("What is in a bin: every part, lot and condition, by part number.")]
    public static async Task<Connection<PiecesOnHandView>> InPlace([FromServices] Asking asking, [Description(PlaceText)] string place,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("in-place", (await asking.Answer<OnHandInPlace.Query, Page<PiecesOnHand>>(
            new(place, PageRequest.Read("in-place", first, after).OrRefuse()), cancellation)).Select(pieces => new PiecesOnHandView(pieces)));

    [Description("The ledger's lines of a part, latest first: what came to or left which place, when, by whom and why.")]
    public static async Task<Connection<MovementView>> Movements([FromServices] Asking asking, [Description(PartText)] string part,
        [Description("Only lines of this place, by its code; all when left out, the outside world's too.")] string? place = null,
        [Description("Only of this lot.")] string? lot = null,
        [Description("Only of this act, in its one word: receive, move, pull, return, count, scrap, reverse …")] string? act = null,
        [Description("Only what belongs to this job, or takes back what belongs to it.")] string? job = null,
        [Description("At this moment or later.")] DateTimeOffset? from = null, [Description("Earlier than this moment.")] DateTimeOffset? before = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("movements", (await asking.Answer<FindMovements.Query, Page<FindMovements.Line>>(
            new(part, PageRequest.Read("movements", first, after).OrRefuse(), place, lot, act, job, from, before), cancellation))
            .Select(line => new MovementView(line)));

    [Description("What lay where at a past moment, added up from the ledger's lines: of a part, in a place, or of a part in a place.")]
    public static async Task<Connection<PastPiecesView>> StockAsOf([FromServices] Asking asking,
        [Description("The moment; what was done at it counts as done.")] DateTimeOffset at,
        [Description("The part's number; one of `part` and `place` is needed.")] string? part = null, [Description("The place's code.")] string? place = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("stock-as-of", (await asking.Answer<StockAsOf.Query, Page<StockAsOf.Pieces>>(
            new(at, part, place, PageRequest.Read("stock-as-of", first, after).OrRefuse()), cancellation)).Select(pieces => new PastPiecesView(pieces)));

    [Description("Lots on the shelf that have expired or soon will, first to expire first.")]
    public static async Task<Connection<ExpiringLotView>> LotsNearExpiry([FromServices] Asking asking,
        [Description("Days from today, in UTC: 0 for what expires today or has expired, at most 3650.")] int withinDays,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("lots-near-expiry", (await asking.Answer<LotsNearExpiry.Query, Page<LotsNearExpiry.Lot>>(
            new(withinDays, PageRequest.Read("lots-near-expiry", first, after).OrRefuse()), cancellation)).Select(lot => new ExpiringLotView(lot)));

    [Description("Every ledger transaction once, in an order that never changes: a program that keeps the last cursor follows the ledger without missing or "
        + "repeating anything. When a page is empty, keep the cursor you have and ask again later.")]
    public static async Task<Connection<LedgerEntryView>> LedgerFeed([FromServices] Asking asking,
        [Description("At most so many, 1 to 500.")] int first = 100,
        [Description("The cursor of the last entry taken; the first transaction of all when left out.")] string? after = null,
        CancellationToken cancellation = default)
    {
        var answer = await asking.Answer<LedgerFeed.Query, LedgerFeed.Answer>(new(after, first), cancellation);
        List<Edge<LedgerEntryView>> edges = [.. answer.Entries.Select(entry => new Edge<LedgerEntryView>(entry.Cursor, new LedgerEntryView(entry)))];
        return new(edges, new PageInfo(answer.More, after is not null,
            edges is [var begin, ..] ? begin.Cursor : null, edges is [.., var end] ? end.Cursor : null));
    }

    [Description("Counts that found a large difference and wait for a second one, oldest first. Neither figure is told: the second count is blind too.")]
    public static async Task<Connection<WaitingCountView>> WaitingCounts([FromServices] Asking asking,
        [Description("Only in this place, by its code; every place when left out.")] string? place = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("waiting-counts", (await asking.Answer<WaitingCounts.Query, Page<WaitingCounts.Waiting>>(
            new(place, PageRequest.Read("waiting-counts", first, after).OrRefuse()), cancellation)).Select(waiting => new WaitingCountView(waiting)));

    [Description("Whether everything holds that must always hold: what is new since the last time is checked, at most once a minute. "
        + "The command `partsledger verify --full` goes through everything.")]
    public static async Task<LedgerCheckView> LedgerCheck([FromServices] LedgerHealth health, [FromServices] Asking asking, CancellationToken cancellation)
    {
        var (answer, at) = (await health.Ask(asking.Caller, cancellation)).OrRefuse();
        return new(answer, at);
    }
}
