using FluentValidation;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>A job takes pieces off the shelf: its reserved ones first, then free ones, first to expire first unless a place or lot is named.</summary>
public static class PullStock
{
    /// <param name="Place">Only from there; null takes from any.</param>
    /// <param name="Lot">Only of this lot; null takes the first to expire.</param>
    /// <param name="Condition">Only in this condition; null takes new before rebuilt before used.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Job, string Part, Quantity Quantity, PullFrom From = PullFrom.Either, string? Place = null, string? Lot = null,
        StockCondition? Condition = null, string? Note = null) : IAct<Answer>;

    /// <param name="Transaction">The ledger transaction's number.</param>
    /// <param name="Pulled">Where to take how many.</param>
    /// <param name="OfReserved">How many of them the job had reserved.</param>
    public sealed record Answer(long Transaction, DateTimeOffset At, string Job, IReadOnlyList<PiecesAt> Pulled, Quantity OfReserved);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Part).Named("part number");
            RuleFor(c => c.Quantity).Positive();
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    /// <summary>What is taken from one balance, and how much of which of the job's reservations that uses up.</summary>
    public sealed record Pick(StockBalance Balance, Quantity Quantity, OpenReservation? Uses);

    /// <param name="balances">Everything the shop has of the part.</param>
    /// <param name="open">What anybody has reserved of the part.</param>
    public static Outcome<IReadOnlyList<Pick>> Decide(
        Command act, StockPart part, StockPlace? place, StockLot? lot, IReadOnlyList<StockBalance> balances, IReadOnlyList<OpenReservation> open,
        DateOnly today)
    {
        if (part.WholePieces && !act.Quantity.IsWhole) return StockRefusals.NotWhole(part.Number, act.Quantity);
        if (lot is { ExpiresOn: { } on } && PickOrder.IsExpired(on, today)) return JobRefusals.LotExpired(part.Number, [(lot.Code, on)]);
        var named = balances.Where(balance => (place is null || balance.Place.Id == place.Id) && (lot is null || balance.LotId == lot.Id)
            && (act.Condition is null || balance.Condition == act.Condition)).ToList();
        var usable = PickOrder.Usable(named, today);
        var own = open.Where(line => line.JobKey == Code.KeyOf(act.Job)).ToLookup(line => line.BalanceId);

        var picks = new List<Pick>();
        var left = act.Quantity;
        if (act.From != PullFrom.Free)
            foreach (var balance in usable)
                foreach (var line in own[balance.Id])
                    left -= Add(picks, balance, Quantity.Min(left, line.Open), line);
        if (act.From != PullFrom.Reserved)
            foreach (var balance in usable)
                left -= Add(picks, balance, Quantity.Min(left, balance.Free), null);

        // With nothing left to find the posting must succeed; anything else is a lost race or a bug.
        return left == Quantity.Zero ? picks : Short(act, part, place, named, usable, own, open, today);
    }

    private static Quantity Add(List<Pick> picks, StockBalance balance, Quantity quantity, OpenReservation? uses)
    {
        if (quantity > Quantity.Zero) picks.Add(new Pick(balance, quantity, uses));
        return quantity;
    }

    /// <summary>Why there are too few, nearest reason first: reserved by others, expired, in quarantine, not there at all.</summary>
    private static Refusal Short(
        Command act, StockPart part, StockPlace? place, List<StockBalance> named, IReadOnlyList<StockBalance> usable,
        ILookup<long, OpenReservation> own, IReadOnlyList<OpenReservation> open, DateOnly today)
    {
        var reserved = usable.Total(balance => own[balance.Id].Total(line => line.Open));
        var expired = named.Where(balance => balance.IsGood && balance.IsExpired(today)).ToList();
        var lots = expired.Select(balance => (balance.Lot!, balance.ExpiresOn!.Value)).Distinct();
        if (act.From == PullFrom.Reserved)
        {
            var onExpired = expired.Total(balance => own[balance.Id].Total(line => line.Open));
            if (onExpired > Quantity.Zero && reserved + onExpired >= act.Quantity) return JobRefusals.LotExpired(part.Number, lots);
            return reserved + onExpired == Quantity.Zero ? JobRefusals.NoReservation(act.Job.Trim(), part.Number)
                : JobRefusals.NotEnoughReserved(act.Job.Trim(), part.Number, act.Quantity, reserved);
        }

        var free = usable.Total(balance => balance.Free) + (act.From == PullFrom.Either ? reserved : Quantity.Zero);
        var reach = usable.Total(balance => balance.OnHand);
        if (reach >= act.Quantity)
        {
            var there = usable.Select(balance => balance.Id).ToHashSet();
            var holders = open.Where(line => there.Contains(line.BalanceId) && (act.From == PullFrom.Free || line.JobKey != Code.KeyOf(act.Job)));
            return StockRefusals.NotEnoughFree(part.Number, act.Quantity, free, HeldPieces.Sentence(HeldPieces.In(holders)));
        }
        reach += expired.Total(balance => balance.OnHand);
        if (reach >= act.Quantity) return JobRefusals.LotExpired(part.Number, lots);
        var quarantined = named.Where(balance => !balance.IsGood).Total(balance => balance.OnHand);
        if (reach + quarantined >= act.Quantity) return JobRefusals.Quarantined(part.Number, quarantined);
        return StockRefusals.NotEnough(part.Number, place?.Code ?? "The shop", act.Quantity, reach + quarantined, free);
    }

    public sealed class Handler(LedgerContext db, Ledger ledger, StockDesk desk) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            if (await Jobs.JobBooks.WhyOver(db, act.Job, cancellation) is { } over) return over;
            var part = await desk.Part(act.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            StockPlace? place = null;
            if (!string.IsNullOrWhiteSpace(act.Place))
            {
                var found = await desk.Place(act.Place, cancellation);
                if (!found.Succeeded) return found.Refusal;
                place = found.Result;
            }
            var lot = await desk.LotIfGiven(part.Result, act.Lot, cancellation);
            if (!lot.Succeeded) return lot.Refusal;

            var partId = part.Result.Id;
            var hand = (await ledger.Begin([partId], context.Now, cancellation))[partId];
            var decided = Decide(act, part.Result, place, lot.Result.Lot, hand.Balances, hand.Open,
                DateOnly.FromDateTime(context.Now.UtcDateTime));
            if (!decided.Succeeded) return decided.Refusal;

            // The reservation gives way first: pieces that are still reserved cannot leave their place.
            foreach (var pick in decided.Result)
                if (pick.Uses is { } line) await Reservations.Close(db, line, pick.Quantity, cancellation);
            var taken = decided.Result.GroupBy(pick => pick.Balance).Select(group => (Balance: group.Key, Quantity: group.Total(pick => pick.Quantity))).ToList();
            var movements = taken.Select(from => new Movement(partId, from.Quantity, from.Balance.Slot,
                Slot.Out(OutsideWorld.Job, from.Balance.LotId, from.Balance.Condition))).ToList();
            var posted = await ledger.Post(JobWork.Posting("pull", act.RequestId, act.Note, act.Job), movements, context, cancellation);
            return new Answer(posted.Id, posted.At, act.Job.Trim(),
                [.. taken.Select(from => PiecesAt.Of(part.Result.Number, from.Balance, from.Quantity))],
                decided.Result.Where(pick => pick.Uses is not null).Total(pick => pick.Quantity));
        }
    }
}
