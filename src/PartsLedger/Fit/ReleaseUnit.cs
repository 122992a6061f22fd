using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>A half comes out of quarantine, once it has been measured since it went in.</summary>
public static class ReleaseUnit
{
    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, string Tag, string Location, string? Why = null) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Tag).Named("tag");
            RuleFor(c => c.Location).Named("place it goes to");
            RuleFor(c => c.Why).ShortText("reason");
        }
    }

    /// <param name="quarantinedAt">When it last went into quarantine, if the history says.</param>
    /// <param name="measuredAt">When it was last measured, if ever.</param>
    public static Refusal? Decide(UnitRow unit, StockPlace place, DateTimeOffset? quarantinedAt, DateTimeOffset? measuredAt)
    {
        if (unit.State != UnitState.Quarantine)
            return new Refusal("NOT_IN_QUARANTINE", $"{unit.Tag} is {UnitRefusals.StateWords(unit.State)}.", "There is nothing to release.");
        if (place.Kind == LocationKind.Quarantine)
            return new Refusal("A_QUARANTINE_PLACE", $"{place.Code} is a quarantine place.", "Give the place it goes to now that it is free.");
        if (measuredAt is null || measuredAt < quarantinedAt)
            return new Refusal("NOT_MEASURED_AGAIN", $"{unit.Tag} has not been measured since it went into quarantine.", "Measure it, then release it.");
        return null;
    }

    public sealed class Handler(UnitDesk desk, StockDesk stock, SizedUnits sizes) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var unit = await desk.Unit(act.Tag, cancellation);
            if (!unit.Succeeded) return unit.Refusal;
            var place = await stock.Place(act.Location, cancellation);
            if (!place.Succeeded) return place.Refusal;
            var id = unit.Result.Id;
            var quarantined = await context.Db.UnitEvents.Where(row => row.UnitId == id && (row.What == "taken apart" || row.What == "condemned"))
                .OrderByDescending(row => row.Id).Select(row => (DateTimeOffset?)row.At).FirstOrDefaultAsync(cancellation);
            var measured = await context.Db.Measurements.Where(row => row.UnitId == id)
                .OrderByDescending(row => row.TakenAt).Select(row => (DateTimeOffset?)row.TakenAt).FirstOrDefaultAsync(cancellation);
            if (Decide(unit.Result, place.Result, quarantined, measured) is { } refusal) return refusal;
            var gauge = (await sizes.Gauges([id], cancellation))[id];
            if (SizedUnits.MayRelease(gauge, FamilyFit.Of(unit.Result.Family), DateOnly.FromDateTime(context.Now.UtcDateTime)) is { } overdue) return overdue;

            unit.Result.State = UnitState.Serviceable;
            unit.Result.LocationId = place.Result.Id;
            unit.Result.Version++;
            desk.Write(context, act.RequestId, "released", $"to {place.Result.Code}", act.Why, unitId: id);
            return new UnitActed(unit.Result.Tag, $"{unit.Result.Tag} is free to use, in {place.Result.Code}.");
        }
    }
}
