using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Stock;

/// <summary>One field of a form at the shelf.</summary>
/// <param name="Hint">What a browser should bring up: <c>decimal</c> for a number's keys, <c>date</c> for a calendar, <c>condition</c> for the list of them.</param>
public sealed record ShelfField(string Name, string Label, string? Hint = null, bool Required = true);

/// <summary>
/// One thing done at the shelf, as its page asks for it: which fields, in the order in which they are scanned, and the request that they become.
/// All of them are one page, so that somebody who knows one knows them all.
/// </summary>
/// <param name="Kept">The fields that the next form begins with: one delivery note has many lines, one place many counts.</param>
/// <param name="Send">Sends the request; the number of the ledger's transaction, 0 where nothing had to be booked.</param>
public sealed record ShelfWork(
    string Name, string Title, string Button, string Tells, IReadOnlyList<ShelfField> Fields, IReadOnlyList<string> Kept,
    Func<FormPost, FormReader, CancellationToken, Task<Outcome<long>>> Send)
{
    public const string Part = "part", Place = "place", To = "to", Lot = "lot", Quantity = "quantity", Condition = "condition", Reason = "reason", Document = "document";

    private static readonly ShelfField
        PartField = new(Part, "Part"), LotField = new(Lot, "Lot or serial number, where it has one", Required: false), QuantityField = new(Quantity, "How many", "decimal"),
        ConditionField = new(Condition, "Condition", "condition"), ReasonField = new(Reason, "Why"), From = new(Place, "Place it is in");

    public string Path => $"/warehouse/{Name}";

    public bool Asks(string field) => Fields.Any(one => one.Name == field);

    public static IReadOnlyList<ShelfWork> All { get; } =
    [
        new("receive", "Receive", "Book it in", "Scan the part, its bag and the place it is put in.",
            [new(Document, "Supplier's document"), PartField, new(Place, "Place it is put in"), LotField, QuantityField, new("cost", "Cost of one; empty: what ours cost", "decimal", Required: false),
                new("cured", "Cured on, on the bag", "date", Required: false), new("expires", "Use by, on the bag", "date", Required: false), ConditionField],
            [Document, Place], (post, read, cancellation) => Posted(new ReceiveStock.Command(post.RequestId, post.Text(Document),
                [new(post.Text(Part), post.Text(Place), read.Quantity(Quantity), read.MoneyIfGiven("cost"), post.TextIfGiven(Lot), read.DayIfGiven("cured"), read.DayIfGiven("expires"),
                    read.Word(Condition, StockCondition.New))]), read, cancellation)),
        new("move", "Move", "Move it", "Scan the part, where it is and where it goes. Half of a pair takes the other half along.",
            [PartField, From, new(To, "Place it goes to"), LotField, QuantityField, ConditionField],
            [], (post, read, cancellation) => Posted(new MoveStock.Command(post.RequestId, post.Text(Part), post.Text(Place), post.Text(To), read.Quantity(Quantity),
                post.TextIfGiven(Lot), read.Word(Condition, StockCondition.New)), read, cancellation)),
        new("count", "Count", "Counted", "Scan the place, then each part, and say what is there. What is expected is not shown.",
            [new(Place, "Place that is counted"), PartField, LotField, new(Quantity, "How many are there; 0 when there is nothing", "decimal"), ConditionField],
            [Place], Count),
        new("quarantine", "Quarantine", "Put it in quarantine", "What may not be used lies apart, with the reason.",
            [PartField, From, new(To, "Quarantine place it goes to; empty: it stays where it is", Required: false), LotField, QuantityField, ConditionField, ReasonField],
            [], (post, read, cancellation) => Posted(new QuarantineStock.Command(post.RequestId, post.Text(Part), post.Text(Place), read.Quantity(Quantity), post.Text(Reason),
                post.TextIfGiven(To), post.TextIfGiven(Lot), read.Word(Condition, StockCondition.New)), read, cancellation)),
        new("release", "Release from quarantine", "Release it", "What was looked at and found good may be used again.",
            [PartField, From, new(To, "Place it goes to; empty: it stays where it is", Required: false), LotField, QuantityField, new(Condition, "Condition it was found in", "condition"), ReasonField],
            [], (post, read, cancellation) => Posted(new ReleaseFromQuarantine.Command(post.RequestId, post.Text(Part), post.Text(Place), read.Quantity(Quantity),
                read.Word(Condition, StockCondition.New), post.Text(Reason), post.TextIfGiven(To), post.TextIfGiven(Lot)), read, cancellation)),
        new("scrap", "Scrap", "Scrap it", "What is thrown away leaves the ledger with the reason.",
            [PartField, From, LotField, QuantityField, ConditionField, ReasonField],
            [], (post, read, cancellation) => Posted(new ScrapStock.Command(post.RequestId, post.Text(Part), post.Text(Place), read.Quantity(Quantity), post.Text(Reason),
                post.TextIfGiven(Lot), read.Word(Condition, StockCondition.New)), read, cancellation)),
    ];

    /// <summary>A tagged half or a pair is moved as one, by its own request.</summary>
    public static Task<Outcome<UnitActed>> Carry(FormPost post, CancellationToken cancellation) =>
        post.Send<MoveUnit.Command, UnitActed>(new(post.RequestId, post.Text(Part), post.Text(To)), cancellation);

    private static async Task<Outcome<long>> Posted<TAct>(TAct act, FormReader read, CancellationToken cancellation) where TAct : IAct<StockPosted> =>
        (await read.Send<TAct, StockPosted>(act, cancellation)).Then<long>(posted => posted.Transaction);

    private static async Task<Outcome<long>> Count(FormPost post, FormReader read, CancellationToken cancellation)
    {
        var line = new CountStock.Line(post.Text(Part), read.Quantity(Quantity), post.TextIfGiven(Lot), read.Word(Condition, StockCondition.New));
        return (await read.Send<CountStock.Command, CountStock.Answer>(new(post.RequestId, post.Text(Place), [line]), cancellation)).Then<long>(counted => counted.Transaction ?? 0);
    }
}
