using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// A valve's pressure class is changed: never by editing, only by this documented act of a supervisor with the relief pressure that the
/// bench showed. The shims that give it are recorded with it. A pair is re-rated as one.
/// </summary>
public static class ReRateValve
{
    /// <param name="ReliefPascals">The relief pressure measured on the bench.</param>
    /// <param name="Bench">Which bench, and the number of its record.</param>
    [Allowed(Role.Supervisor)]
    public sealed record Command(
        string RequestId, string Valve, string NewClass, long ReliefPascals, string Bench, int ShimCount, long ShimStackNanometres, string Why) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Valve).Named("valve's tag");
            RuleFor(c => c.NewClass).Named("pressure class");
            RuleFor(c => c.Bench).Named("bench record");
            RuleFor(c => (string?)c.Why).Reason();
            RuleFor(c => c.ReliefPascals).GreaterThan(0).WithErrorCode("PRESSURE_OUT_OF_RANGE").WithMessage("The relief pressure is not above zero.")
                .WithState(_ => "Give what the bench showed.");
        }
    }

    public static Refusal? Decide(Command act, UnitRow valve, PressureClassRow newClass)
    {
        if (valve.Role != UnitRole.Valve) return UnitRefusals.WrongRole(valve, UnitRole.Valve);
        if (valve.State is UnitState.Condemned or UnitState.Gone) return UnitRefusals.NotUsable(valve);
        if ((valve.Pair?.Job ?? valve.Job) is { } job) return UnitRefusals.KeptForJob(valve.Tag, job);
        if (valve.PressureClassId == newClass.Id)
            return new Refusal("SAME_CLASS", $"Valve {valve.Tag} already is of class {newClass.Code}.", "There is nothing to change.");
        if (valve.Pair?.Housing() is { PressureClassId: not null } housing && housing.PressureClassId != newClass.Id)
            return UnitRefusals.OtherClass(housing.Tag, housing.PressureClass?.Code ?? "of its own class", valve.Tag, newClass.Code);
        var measured = Pressure.FromPascals(act.ReliefPascals);
        if (measured < newClass.Relief - newClass.Minus || measured > newClass.Relief + newClass.Plus)
            return new Refusal("BENCH_SHOWS_OTHER_CLASS",
                $"The bench showed {measured.ToKilopascals():0} kPa; class {newClass.Code} is {newClass.Relief.ToKilopascals():0} kPa, −{newClass.Minus.ToKilopascals():0} +{newClass.Plus.ToKilopascals():0}.",
                "The valve keeps its class until the bench shows another.");
        return null;
    }

    public sealed class Handler(UnitDesk desk) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Unit(act.Valve, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var valve = found.Result;
            var key = Code.KeyOf(act.NewClass);
            if (await context.Db.PressureClasses.SingleOrDefaultAsync(row => row.CodeKey == key, cancellation) is not { } newClass)
                return new Refusal("UNKNOWN_CLASS", $"There is no pressure class '{act.NewClass}'.", "Give one of the shop's classes.");
            if (Decide(act, valve, newClass) is { } refusal) return refusal;

            var before = valve.PressureClass?.Code ?? "no class";

            // The pair is named with its class by its halves, so they step out of it for a moment; outside this transaction nobody sees it.
            var pair = valve.Pair;
            var halves = pair?.Halves.ToList() ?? [];
            foreach (var half in halves) half.PairId = null;
            await context.Db.SaveChangesAsync(cancellation);
            valve.PressureClassId = newClass.Id;
            valve.ShimCount = act.ShimCount;
            valve.ShimStack = Length.FromNanometres(act.ShimStackNanometres);
            valve.Version++;
            if (pair is not null)
            {
                // Part of the pair's key: it is changed past the tracker, which holds keys to be fixed.
                await context.Db.Pairs.Where(row => row.Id == pair.Id).ExecuteUpdateAsync(set => set
                    .SetProperty(row => row.PressureClassId, newClass.Id).SetProperty(row => row.Released, false)
                    .SetProperty(row => row.Version, row => row.Version + 1), cancellation);
            }
            await context.Db.SaveChangesAsync(cancellation);
            if (pair is not null)
            {
                var ids = halves.Select(half => half.Id).ToList();
                await context.Db.Units.Where(row => ids.Contains(row.Id))
                    .ExecuteUpdateAsync(set => set.SetProperty(row => row.PairId, pair.Id), cancellation);
            }
            desk.Write(context, act.RequestId, "re-rated",
                $"{before} to {newClass.Code}; bench {act.Bench} showed {Pressure.FromPascals(act.ReliefPascals).ToKilopascals():0} kPa; {act.ShimCount} shims, {Length.FromNanometres(act.ShimStackNanometres).ToMillimetres():0.000} mm",
                act.Why, unitId: valve.Id, pairId: pair?.Id);
            return new UnitActed(valve.Tag, $"Valve {valve.Tag} was {before} and is now {newClass.Code}. Change the labels on both halves.");
        }
    }
}
