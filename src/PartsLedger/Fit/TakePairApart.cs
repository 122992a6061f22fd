using FluentValidation;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// A pair is taken apart on purpose: a supervisor's act with a reason. Both halves go to a quarantine place and stay in quarantine until
/// they are measured again.
/// </summary>
public static class TakePairApart
{
    /// <param name="Location">The quarantine place both halves go to.</param>
    [Allowed(Role.Supervisor)]
    public sealed record Command(string RequestId, string Pair, string Location, string Why) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Pair).Named("pair code");
            RuleFor(c => c.Location).Named("quarantine place");
            RuleFor(c => (string?)c.Why).Reason();
        }
    }

    public static Refusal? Decide(PairRow pair, StockPlace place)
    {
        if (pair.State != PairState.Together) return UnitRefusals.PairNotTogether(pair);
        if (pair.Job is { } job) return UnitRefusals.KeptForJob($"Pair {pair.Code}", job);
        if (place.Kind != LocationKind.Quarantine)
            return new Refusal("NOT_A_QUARANTINE_PLACE", $"{place.Code} is no quarantine place.", "Both halves go to a quarantine place until they are measured again.");
        return null;
    }

    public sealed class Handler(UnitDesk desk, StockDesk stock) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var pair = await desk.Pair(act.Pair, cancellation);
            if (!pair.Succeeded) return pair.Refusal;
            var place = await stock.Place(act.Location, cancellation);
            if (!place.Succeeded) return place.Refusal;
            if (Decide(pair.Result, place.Result) is { } refusal) return refusal;

            var tags = pair.Result.Tags();
            await Part(desk, act.RequestId, pair.Result, PairState.TakenApart, act.Why, context, half =>
            {
                half.State = UnitState.Quarantine;
                half.LocationId = place.Result.Id;
            }, cancellation);
            return new UnitActed(pair.Result.Code, $"{tags} are no longer a pair; both are in quarantine in {place.Result.Code} until they are measured again.");
        }
    }

    /// <summary>Ends a pair: what becomes of each half is the caller's to say.</summary>
    internal static async Task Part(
        UnitDesk desk, string requestId, PairRow pair, PairState state, string? why, ActContext context, Action<UnitRow> half, CancellationToken cancellation)
    {
        var tags = pair.Tags();
        var what = state switch
        {
            PairState.TakenApart => "taken apart",
            PairState.Condemned => "condemned",
            PairState.Gone => "gone out",
            _ => throw new ArgumentOutOfRangeException(nameof(state)),
        };
        pair.State = state;
        pair.LocationId = null;
        pair.Job = null;
        pair.JobUntil = null;
        pair.Released = false;
        pair.Version++;
        foreach (var unit in pair.Halves.ToList())
        {
            desk.Write(context, requestId, what, $"pair {pair.Code}: {tags}", why, unit.CoreId, unit.Id, pair.Id);
            unit.PairId = null;
            unit.Version++;
            half(unit);
        }
        await context.Db.SaveChangesAsync(cancellation);
    }
}
