using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Stock;

/// <summary>What the API can do to stock.</summary>
public sealed class ShelfActs
{
    private const string Part = "The part's number; case, spaces, dashes, dots and slashes do not matter.";
    private const string From = "The place they are in.";
    private const string HowMany = "How many, in the part's unit; whole where it is counted in pieces.";
    private const string OfLot = "The lot, or the serial number of a part tracked one by one; needed for parts that have them.";
    private const string AsBooked = "The condition they are booked in; NEW when left out.";
    private const string Why = "Why, in a few words.";
    private const string Remark = "A remark that stays with the transaction.";

    private ShelfActs() { }

    [Description("Pieces come in from a supplier against its document, with their cost and their lots.")]
    public static Task<Payload<StockPostedView>> ReceiveStock([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The supplier's document, as written on it.")] string document,
        [Description("What came, 1 to 500 lines.")] IReadOnlyList<ReceiveLineInput> lines,
        [Description(Remark)] string? note = null, CancellationToken cancellation = default) =>
        Send(acting, lines.Read(line => line.Line()).Then<ReceiveStock.Command>(read =>
            new ReceiveStock.Command(requestId, document, read, note)), cancellation);

    [Description("Free pieces go from one place to another; their lot and condition stay as they are.")]
    public static Task<Payload<StockPostedView>> MoveStock([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(Part)] string part, [Description(From)] string from, [Description("The place they go to.")] string to,
        [Description(HowMany)] decimal quantity, [Description(OfLot)] string? lot = null,
        [Description(AsBooked)] StockCondition? condition = null, [Description(Remark)] string? note = null,
        CancellationToken cancellation = default) =>
        Send(acting, quantity.ToQuantity().Then<MoveStock.Command>(read =>
            new MoveStock.Command(requestId, part, from, to, read, lot, condition ?? StockCondition.New, note)), cancellation);

    [Description("Free pieces go back to a supplier, at what the ledger values them at.")]
    public static Task<Payload<StockPostedView>> ReturnToSupplier([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The return note or the supplier's return number.")] string document,
        [Description("What goes back, 1 to 500 lines.")] IReadOnlyList<ReturnLineInput> lines,
        [Description(Remark)] string? note = null, CancellationToken cancellation = default) =>
        Send(acting, lines.Read(line => line.Line()).Then<ReturnToSupplier.Command>(read =>
            new ReturnToSupplier.Command(requestId, document, read, note)), cancellation);

    [Description("Free pieces leave the shop for good.")]
    public static Task<Payload<StockPostedView>> ScrapStock([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(Part)] string part, [Description(From)] string from, [Description(HowMany)] decimal quantity, [Description(Why)] string reason,
        [Description(OfLot)] string? lot = null, [Description(AsBooked)] StockCondition? condition = null,
        CancellationToken cancellation = default) =>
        Send(acting, quantity.ToQuantity().Then<ScrapStock.Command>(read =>
            new ScrapStock.Command(requestId, part, from, read, reason, lot, condition ?? StockCondition.New)), cancellation);

    [Description("Free pieces are set aside until somebody has looked at them; they are on hand and not available.")]
    public static Task<Payload<StockPostedView>> QuarantineStock([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(Part)] string part, [Description(From)] string from, [Description(HowMany)] decimal quantity, [Description(Why)] string reason,
        [Description("A quarantine place; left out, they stay where they are.")] string? to = null, [Description(OfLot)] string? lot = null,
        [Description(AsBooked)] StockCondition? condition = null, CancellationToken cancellation = default) =>
        Send(acting, quantity.ToQuantity().Then<QuarantineStock.Command>(read =>
            new QuarantineStock.Command(requestId, part, from, read, reason, to, lot, condition ?? StockCondition.New)), cancellation);

    [Description("Pieces in quarantine that were found good become available again.")]
    public static Task<Payload<StockPostedView>> ReleaseFromQuarantine([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(Part)] string part, [Description(From)] string from, [Description(HowMany)] decimal quantity,
        [Description("As they were found; not quarantine.")] StockCondition condition, [Description(Why)] string reason,
        [Description("Where they go; may be left out unless they lie in a quarantine place.")] string? to = null,
        [Description(OfLot)] string? lot = null, CancellationToken cancellation = default) =>
        Send(acting, quantity.ToQuantity().Then<ReleaseFromQuarantine.Command>(read =>
            new ReleaseFromQuarantine.Command(requestId, part, from, read, condition, reason, to, lot)), cancellation);

    [Description("A blind count of what lies in one place. A small difference is posted; a large one when a second count finds the same.")]
    public static Task<Payload<CountView>> CountStock([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The place that was counted.")] string place,
        [Description("What was found, 1 to 500 lines; what is not named stays as it is.")] IReadOnlyList<CountLineInput> lines,
        [Description(Remark)] string? note = null, CancellationToken cancellation = default) =>
        acting.Act<CountStock.Command, CountStock.Answer, CountView>(
            lines.Read(line => line.Line()).Then<CountStock.Command>(read => new CountStock.Command(requestId, place, read, note)),
            answer => new CountView(answer), cancellation);

    [Description("Free pieces of a lot become a lot of their own, as old as the one they came from.")]
    public static Task<Payload<StockPostedView>> SplitLot([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(Part)] string part, [Description("The lot they are of.")] string lot, [Description(From)] string place,
        [Description(HowMany)] decimal quantity, [Description("A code that no lot of the part has yet.")] string newLot,
        [Description(AsBooked)] StockCondition? condition = null, [Description(Remark)] string? note = null,
        CancellationToken cancellation = default) =>
        Send(acting, quantity.ToQuantity().Then<SplitLot.Command>(read =>
            new SplitLot.Command(requestId, part, lot, place, read, newLot, condition ?? StockCondition.New, note)), cancellation);

    [Description("The free pieces of some lots go into another lot of the part, which is from then on as old as the oldest of them.")]
    public static Task<Payload<StockPostedView>> MergeLots([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description(Part)] string part, [Description("The lots that go into it.")] IReadOnlyList<string> lots,
        [Description("The lot they go into.")] string into, [Description("Only what lies there; left out, in every place.")] string? place = null,
        [Description(Remark)] string? note = null, CancellationToken cancellation = default) =>
        Send<MergeLots.Command>(acting, new MergeLots.Command(requestId, part, lots, into, place, note), cancellation);

    [Description("Takes a mistake back by a transaction that has every line the other way round. A reservation that a pull used up is not open again.")]
    public static Task<Payload<StockPostedView>> ReverseTransaction([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Id, Description("The number of the transaction that was wrong.")] long transaction, [Description(Why)] string reason,
        CancellationToken cancellation = default) =>
        Send<ReverseTransaction.Command>(acting, new ReverseTransaction.Command(requestId, transaction, reason), cancellation);

    [Description("The shop chooses how it works: `costing` (average or fifo, before the first piece is booked) `recount-above` (a quantity), "
        + "`guard-factor` (0 to 1), and how its pages write: `length-unit`, `pressure-unit`, `flow-unit`, `temperature-unit`, `number-format`, `currency`.")]
    public static Task<Payload<ShopChoiceView>> SetShopChoice([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId,
        [Description("Which choice.")] string name, [Description("What is chosen.")] string value, CancellationToken cancellation = default) =>
        acting.Act<SetShopChoice.Command, SetShopChoice.Answer, ShopChoiceView>(
            new SetShopChoice.Command(requestId, name, value), answer => new ShopChoiceView(answer.Name, answer.Value), cancellation);

    private static Task<Payload<StockPostedView>> Send<TAct>(Acting acting, Outcome<TAct> act, CancellationToken cancellation)
        where TAct : IAct<StockPosted> =>
        acting.Act<TAct, StockPosted, StockPostedView>(act, posted => new StockPostedView(posted), cancellation);
}
