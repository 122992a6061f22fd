using FluentValidation;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>A job gives up what it has reserved: everything, or some of one part.</summary>
public static class ReleaseReservation
{
    /// <param name="Part">Null releases everything the job has reserved.</param>
    /// <param name="Quantity">Null releases everything the job has reserved of the part.</param>
    [Allowed(Role.Counter, Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string? Part = null, Quantity? Quantity = null) : IAct<Answer>;

    /// <param name="Released">What is free again, by place, lot and condition.</param>
    public sealed record Answer(string Job, IReadOnlyList<PiecesAt> Released);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Part!).Named("part number").When(c => c.Part is not null || c.Quantity is not null);
            RuleFor(c => c.Quantity!.Value).Positive().When(c => c.Quantity is not null);
        }
    }

    public sealed record Close(OpenReservation Line, Quantity Quantity);

    /// <param name="open">What the job has reserved, of the part where one is named; first to free up first.</param>
    public static Outcome<IReadOnlyList<Close>> Decide(Command act, StockPart? part, IReadOnlyList<OpenReservation> open)
    {
        if (open.Count == 0) return JobRefusals.NoReservation(act.Job.Trim(), part?.Number);
        if (part is null || act.Quantity is not { } left) return open.Select(line => new Close(line, line.Open)).ToList();
        if (part.WholePieces && !left.IsWhole) return StockRefusals.NotWhole(part.Number, left);
        var reserved = open.Total(line => line.Open);
        if (left > reserved) return JobRefusals.NotEnoughReserved(act.Job.Trim(), part.Number, left, reserved);

        // The last reserved goes first: what was reserved first is what would be used first, and the job keeps that.
        var closes = new List<Close>();
        foreach (var line in open.OrderByDescending(line => line.LineId))
        {
            var closed = Quantity.Min(left, line.Open);
            if (closed == Quantity.Zero) break;
            closes.Add(new Close(line, closed));
            left -= closed;
        }
        return closes;
    }

    public sealed class Handler(LedgerContext db, Ledger ledger, StockDesk desk) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            StockPart? part = null;
            if (act.Part is not null)
            {
                var found = await desk.Part(act.Part, cancellation);
                if (!found.Succeeded) return found.Refusal;
                part = found.Result;
            }
            var key = Code.KeyOf(act.Job);
            var begun = part is not null ? [part.Id]
                : (await Reservations.OfJob(db, key, cancellation)).Select(line => line.PartId).ToHashSet();
            var hand = await ledger.Begin(begun, context.Now, cancellation);

            var open = (await Reservations.OfJob(db, key, cancellation)).Where(line => part is null || line.PartId == part.Id).ToList();

            // The job reserved another part between the two readings: its turn was not taken.
            if (open.Exists(line => !begun.Contains(line.PartId))) throw new RaceLost();
            var decided = Decide(act, part, open);
            if (!decided.Succeeded) return decided.Refusal;

            foreach (var (line, quantity) in decided.Result) await Reservations.Close(db, line, quantity, cancellation);
            return new Answer(act.Job.Trim(), await Released(decided.Result, hand, cancellation));
        }

        private async Task<IReadOnlyList<PiecesAt>> Released(
            IReadOnlyList<Close> closes, IReadOnlyDictionary<int, PartInHand> hand, CancellationToken cancellation)
        {
            var released = new List<PiecesAt>();
            foreach (var part in closes.GroupBy(close => close.Line.PartId))
            {
                var number = await desk.Number(part.Key, cancellation);
                var byBalance = part.ToLookup(close => close.Line.BalanceId, close => close.Quantity);
                released.AddRange(hand[part.Key].Balances.Where(balance => byBalance.Contains(balance.Id))
                    .Select(balance => PiecesAt.Of(number, balance, byBalance[balance.Id].Total(quantity => quantity))));
            }
            return released;
        }
    }
}
