using FluentValidation;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// A damaged housing or valve is condemned. If it is half of a pair the pair ends with it, and a note says what becomes of the other
/// half: it goes into quarantine until it is measured again, or is condemned too.
/// </summary>
public static class CondemnUnit
{
    /// <param name="OtherHalf">What becomes of the other half; required for half of a pair, in words.</param>
    /// <param name="CondemnOtherToo">The other half is condemned with it.</param>
    /// <param name="Location">The quarantine place the other half goes to.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Tag, string Why, string? OtherHalf = null, bool CondemnOtherToo = false, string? Location = null) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Tag).Named("tag");
            RuleFor(c => (string?)c.Why).Reason();
            RuleFor(c => c.OtherHalf).ShortText("note on the other half");
        }
    }

    public static Refusal? Decide(Command act, UnitRow unit, StockPlace? place, Caller caller)
    {
        if (unit.State is UnitState.Condemned or UnitState.Gone) return UnitRefusals.NotUsable(unit);
        if (unit.Job is { } job) return UnitRefusals.KeptForJob(unit.Tag, job);
        if (unit.Pair is not { } pair) return null;
        if (!caller.IsSupervisor) return UnitRefusals.NotSupervisor("end a matched pair");
        if (pair.Job is { } pairJob) return UnitRefusals.KeptForJob($"Pair {pair.Code}", pairJob);
        if (string.IsNullOrWhiteSpace(act.OtherHalf))
            return new Refusal("OTHER_HALF_MISSING", $"{unit.Tag} is half of pair {pair.Code} ({pair.Tags()}); it is not said what becomes of the other half.",
                "Say in a few words what happens to the other half.");
        if (!act.CondemnOtherToo && place?.Kind != LocationKind.Quarantine)
            return new Refusal("NOT_A_QUARANTINE_PLACE", "The other half needs a quarantine place to go to.", "Give one, or condemn both halves.");
        return null;
    }

    public sealed class Handler(UnitDesk desk, StockDesk stock) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Unit(act.Tag, cancellation);
            if (!found.Succeeded) return found.Refusal;
            StockPlace? place = null;
            if (!string.IsNullOrWhiteSpace(act.Location))
            {
                var named = await stock.Place(act.Location, cancellation);
                if (!named.Succeeded) return named.Refusal;
                place = named.Result;
            }
            var unit = found.Result;
            if (Decide(act, unit, place, context.Caller) is { } refusal) return refusal;

            if (unit.Pair is not { } pair)
            {
                Condemn(unit);
                unit.Version++;
                desk.Write(context, act.RequestId, "condemned", null, act.Why, unit.CoreId, unit.Id);
                return new UnitActed(unit.Tag, $"{Words.Of(unit.Role)} {unit.Tag} is condemned. Mark it so that nobody can fit it.");
            }
            await TakePairApart.Part(desk, act.RequestId, pair, PairState.Condemned, $"{act.Why} Other half: {act.OtherHalf}", context, half =>
            {
                if (half.Id == unit.Id || act.CondemnOtherToo) Condemn(half);
                else
                {
                    half.State = UnitState.Quarantine;
                    half.LocationId = place!.Id;
                }
            }, cancellation);
            return new UnitActed(unit.Tag, $"{unit.Tag} is condemned and pair {pair.Code} has ended. {(act.CondemnOtherToo
                ? "The other half is condemned too." : $"The other half is in quarantine in {place!.Code}.")}");
        }

        private static void Condemn(UnitRow unit)
        {
            unit.State = UnitState.Condemned;
            unit.LocationId = null;
        }
    }
}
