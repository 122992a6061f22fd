using FluentValidation;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>A loose unit, or a pair as one, goes to another place. Scanning either half moves the pair: there is no other way to say it.</summary>
public static class MoveUnit
{
    /// <summary>What a half's or a pair's history says of it.</summary>
    internal const string Moved = "moved";

    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Code, string To) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Code).Named("tag or pair code");
            RuleFor(c => c.To).Named("place it goes to");
        }
    }

    public static Refusal? Decide(UnitRow unit, StockPlace to)
    {
        if (unit.State is UnitState.Condemned or UnitState.Gone) return UnitRefusals.NotUsable(unit);
        if (unit.LocationId == to.Id) return StockRefusals.SamePlace(to.Code);
        if (unit.State == UnitState.Quarantine && to.Kind != LocationKind.Quarantine) return UnitRefusals.NotUsable(unit);
        return null;
    }

    public static Refusal? Decide(PairRow pair, StockPlace to) =>
        pair.State != PairState.Together ? UnitRefusals.PairNotTogether(pair) : pair.LocationId == to.Id ? StockRefusals.SamePlace(to.Code) : null;

    public sealed class Handler(UnitDesk desk, StockDesk stock) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var place = await stock.Place(act.To, cancellation);
            if (!place.Succeeded) return place.Refusal;
            var to = place.Result;
            var unit = await desk.Unit(act.Code, cancellation);
            if (unit is { Succeeded: true, Result: { Pair: null } loose })
            {
                if (Decide(loose, to) is { } refusal) return refusal;
                loose.LocationId = to.Id;
                loose.Version++;
                desk.Write(context, act.RequestId, Moved, $"to {to.Code}", unitId: loose.Id);
                return new UnitActed(loose.Tag, $"{loose.Tag} is in {to.Code}.");
            }
            var pair = await desk.Pair(act.Code, cancellation);
            if (!pair.Succeeded) return unit.Refusal ?? pair.Refusal;
            if (Decide(pair.Result, to) is { } no) return no;
            pair.Result.LocationId = to.Id;
            pair.Result.Version++;
            desk.Write(context, act.RequestId, Moved, $"to {to.Code}", pairId: pair.Result.Id);
            return new UnitActed(pair.Result.Code, $"Pair {pair.Result.Code} is in {to.Code}: carry {pair.Result.Tags()} together.");
        }
    }
}
