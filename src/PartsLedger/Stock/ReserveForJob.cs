using FluentValidation;
using PartsLedger.Data;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>A job's whole list is kept for it, up to a moment: all of it or nothing, or as much as is free.</summary>
public static class ReserveForJob
{
    public const int DefaultDays = 14;
    public const int LongestDays = 366;

    /// <param name="Job">The job's own number.</param>
    /// <param name="ExpiresAt">When the pieces free up again; null is <see cref="DefaultDays"/> days from now, <see cref="LongestDays"/> at most.</param>
    [Allowed(Role.Counter, Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Job, IReadOnlyList<Line> Lines, ReserveRule Rule = ReserveRule.AllOrNothing, DateTimeOffset? ExpiresAt = null)
        : IAct<Answer>;

    /// <param name="Lot">Pieces of this lot only; null takes the first to expire.</param>
    public sealed record Line(string Part, Quantity Quantity, string? Lot = null);

    /// <param name="Reservation">The reservation's number; null when nothing at all was free.</param>
    /// <param name="Reserved">In the order of the list, each entry one place, lot and condition.</param>
    /// <param name="Missing">In the order of the list; empty when everything is reserved.</param>
    public sealed record Answer(
        long? Reservation, string Job, DateTimeOffset ExpiresAt, IReadOnlyList<PiecesAt> Reserved, IReadOnlyList<MissingPieces> Missing);

    /// <summary>What could not be reserved of one line, and who has reserved pieces that would do.</summary>
    public sealed record MissingPieces(string Part, string? Lot, Quantity Quantity, IReadOnlyList<HeldPieces> HeldBy);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Lines).NotEmpty().WithErrorCode("NOTHING_TO_DO").WithMessage("The list is empty.").WithState(_ => "Give what the job needs.");
            RuleFor(c => c.Lines.Count).LessThanOrEqualTo(500).WithErrorCode("TOO_MANY_LINES").WithMessage("A list has at most 500 lines.")
                .WithState(_ => "Reserve it in several lists.");
            RuleForEach(c => c.Lines).ChildRules(line =>
            {
                line.RuleFor(l => l.Part).Named("part number");
                line.RuleFor(l => l.Quantity).Positive();
            });
        }
    }

    /// <summary>What one line of the list turned out to be.</summary>
    public sealed record Wanted(Line Line, StockPart Part, StockLot? Lot);

    public sealed record Take(StockPart Part, StockBalance Balance, Quantity Quantity);

    public sealed record Plan(DateTimeOffset ExpiresAt, IReadOnlyList<Take> Takes, IReadOnlyList<MissingPieces> Missing);

    /// <param name="balances">What the shop has, by part id.</param>
    /// <param name="open">What is reserved of these parts.</param>
    public static Outcome<Plan> Decide(
        Command act, IReadOnlyList<Wanted> list, IReadOnlyDictionary<int, IReadOnlyList<StockBalance>> balances,
        IReadOnlyList<OpenReservation> open, DateTimeOffset now)
    {
        var today = DateOnly.FromDateTime(now.UtcDateTime);
        var expiresAt = act.ExpiresAt ?? now.AddDays(DefaultDays);
        if (expiresAt <= now) return JobRefusals.ExpiryPassed(expiresAt);
        if (expiresAt > now.AddDays(LongestDays)) return JobRefusals.ExpiryTooFar(expiresAt);
        foreach (var (line, part, lot) in list)
        {
            if (part.WholePieces && !line.Quantity.IsWhole) return StockRefusals.NotWhole(part.Number, line.Quantity);
            if (lot is { ExpiresOn: { } on } && PickOrder.IsExpired(on, today)) return JobRefusals.LotExpired(part.Number, [(lot.Code, on)]);
        }

        var shares = Share(list, balances, today);
        var missing = shares.Where(share => share.Missing > Quantity.Zero).ToList();
        if (missing.Count > 0 && act.Rule == ReserveRule.AllOrNothing) return Short(missing, balances, open, today);

        // From here the reservation must succeed; anything else is a lost race or a bug.
        return new Plan(expiresAt, [.. shares.SelectMany(share => share.Takes)],
            [.. missing.Select(share => new MissingPieces(share.Of.Part.Number, share.Of.Lot?.Code, share.Missing, HeldBy(share.Of, balances, open, today)))]);
    }

    /// <summary>Lines that name a lot choose first: the others can take any, so nothing is missed that could have been had.</summary>
    private static List<Shared> Share(
        IReadOnlyList<Wanted> list, IReadOnlyDictionary<int, IReadOnlyList<StockBalance>> balances, DateOnly today)
    {
        var free = balances.Values.SelectMany(of => of).ToDictionary(balance => balance.Id, balance => balance.Free);
        var shares = new List<(int At, Shared Share)>();
        foreach (var (at, wanted) in list.Index().OrderBy(line => line.Item.Lot is null))
        {
            var left = wanted.Line.Quantity;
            var takes = new List<Take>();
            foreach (var balance in PickOrder.Usable(Fitting(wanted, balances), today))
            {
                var taken = Quantity.Min(left, free[balance.Id]);
                if (taken == Quantity.Zero) continue;
                takes.Add(new Take(wanted.Part, balance, taken));
                free[balance.Id] -= taken;
                left -= taken;
            }
            shares.Add((at, new Shared(wanted, takes, left)));
        }
        return [.. shares.OrderBy(share => share.At).Select(share => share.Share)];
    }

    private static Refusal Short(
        List<Shared> missing, IReadOnlyDictionary<int, IReadOnlyList<StockBalance>> balances, IReadOnlyList<OpenReservation> open, DateOnly today)
    {
        var first = missing[0].Of;
        var expired = Fitting(first, balances).Where(balance => balance.IsGood && balance.IsExpired(today)).Total(balance => balance.Free);
        var sentences = new[]
        {
            HeldPieces.Sentence(HeldBy(first, balances, open, today)),
            expired > Quantity.Zero ? $"{expired} more have expired." : "",
            missing.Count > 1 ? $"{missing.Count - 1} more of the list's lines are short too." : "",
        };
        return StockRefusals.NotEnoughFree(first.Part.Number, first.Line.Quantity, first.Line.Quantity - missing[0].Missing,
            string.Join(' ', sentences.Where(sentence => sentence.Length > 0)));
    }

    private static IEnumerable<StockBalance> Fitting(Wanted wanted, IReadOnlyDictionary<int, IReadOnlyList<StockBalance>> balances) =>
        balances[wanted.Part.Id].Where(balance => wanted.Lot is null || balance.LotId == wanted.Lot.Id);

    private static IReadOnlyList<HeldPieces> HeldBy(
        Wanted wanted, IReadOnlyDictionary<int, IReadOnlyList<StockBalance>> balances, IReadOnlyList<OpenReservation> open,
        DateOnly today)
    {
        var fitting = PickOrder.Usable(Fitting(wanted, balances), today).Select(balance => balance.Id).ToHashSet();
        return HeldPieces.In(open.Where(line => fitting.Contains(line.BalanceId)));
    }

    private sealed record Shared(Wanted Of, IReadOnlyList<Take> Takes, Quantity Missing);

    public sealed class Handler(LedgerContext db, Ledger ledger, StockDesk desk) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            if (await Jobs.JobBooks.WhyOver(db, act.Job, cancellation) is { } over) return over;
            var list = new List<Wanted>();
            foreach (var line in act.Lines)
            {
                var part = await desk.Part(line.Part, cancellation);
                if (!part.Succeeded) return part.Refusal;
                var lot = await desk.LotIfGiven(part.Result, line.Lot, cancellation);
                if (!lot.Succeeded) return lot.Refusal;
                list.Add(new Wanted(line, part.Result, lot.Result.Lot));
            }
            var partIds = list.Select(wanted => wanted.Part.Id).Distinct().ToArray();
            var hand = await ledger.Begin(partIds, context.Now, cancellation);

            var decided = Decide(act, list, partIds.ToDictionary(id => id, id => hand[id].Balances),
                [.. partIds.SelectMany(id => hand[id].Open)], context.Now);
            if (!decided.Succeeded) return decided.Refusal;

            var plan = decided.Result;
            var job = act.Job.Trim();
            return new Answer(plan.Takes.Count == 0 ? null : await Write(job, plan, context, cancellation), job, plan.ExpiresAt,
                [.. plan.Takes.Select(take => PiecesAt.Of(take.Part.Number, take.Balance, take.Quantity))], plan.Missing);
        }

        private async Task<long> Write(string job, Plan plan, ActContext context, CancellationToken cancellation)
        {
            var reservation = new ReservationRow
            {
                Job = job, JobKey = Code.KeyOf(job), MadeAt = context.Now, MadeBy = context.Caller.Name, ExpiresAt = plan.ExpiresAt,
            };
            foreach (var (part, balance, quantity) in plan.Takes)
            {
                await Reservations.Take(db, balance.Id, quantity, cancellation);
                reservation.Lines.Add(new ReservationLineRow { PartId = part.Id, BalanceId = balance.Id, Reserved = quantity, Open = quantity });
            }
            db.Reservations.Add(reservation);
            await db.SaveChangesAsync(cancellation);
            return reservation.Id;
        }
    }
}
