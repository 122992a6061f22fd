using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>What an act on units or pairs did, in words.</summary>
/// <param name="Code">The pair's code or the unit's tag.</param>
public sealed record UnitActed(string Code, string Done);

/// <summary>
/// A housing and a valve become a pair: as received (both out of one core, never separated) or by selection. From then on neither has a
/// place or a job of its own.
/// </summary>
public static class FormPair
{
    /// <param name="Code">The new pair's code, for both halves' labels.</param>
    /// <param name="Location">Where the pair is kept.</param>
    /// <param name="Cost">What the pair counts for when it is used in a kit.</param>
    [Allowed(Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Code, string Housing, string Valve, PairOrigin Origin, string Location, Money Cost, string? Why = null) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Code).Named("pair code");
            RuleFor(c => c.Housing).Named("housing's tag");
            RuleFor(c => c.Valve).Named("valve's tag");
            RuleFor(c => c.Location).Named("place");
            RuleFor(c => c.Cost).Must(cost => cost >= Money.Zero).WithErrorCode("COST_OUT_OF_RANGE").WithMessage("The cost is below zero.")
                .WithState(_ => "Give what the pair is worth to the shop.");
            RuleFor(c => c.Why).ShortText("reason");
        }
    }

    /// <summary>Null when the two may become a pair.</summary>
    public static Refusal? Decide(Command act, UnitRow housing, UnitRow valve)
    {
        if (housing.Role != UnitRole.Housing) return UnitRefusals.WrongRole(housing, UnitRole.Housing);
        if (valve.Role != UnitRole.Valve) return UnitRefusals.WrongRole(valve, UnitRole.Valve);
        foreach (var unit in (UnitRow[])[housing, valve])
        {
            if (unit.Pair is { } pair) return UnitRefusals.AlreadyPaired(unit, pair);
            if (unit.State != UnitState.Serviceable) return UnitRefusals.NotUsable(unit);
            if (unit.Job is { } job) return UnitRefusals.KeptForJob(unit.Tag, job);
        }
        if (housing.FamilyId != valve.FamilyId) return UnitRefusals.OtherFamily(housing, valve);
        if (valve.PressureClass is not { } valveClass) return UnitRefusals.ClassMissing(valve);
        if (housing.PressureClass is { } housingClass && housing.PressureClassId != valve.PressureClassId)
            return UnitRefusals.OtherClass(housing.Tag, housingClass.Code, valve.Tag, valveClass.Code);
        if (act.Origin == PairOrigin.AsReceived && (housing.CoreId is null || housing.CoreId != valve.CoreId))
            return new Refusal("NOT_FROM_ONE_CORE", $"{housing.Tag} and {valve.Tag} did not come out of one core.",
                "Only halves of one core are a pair as received; others are paired by selection, after measuring.");
        return null;
    }

    public sealed class Handler(UnitDesk desk, StockDesk stock, SizedUnits sizes, ShopSettings settings) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var code = await desk.NewTag(act.Code, cancellation);
            if (!code.Succeeded) return code.Refusal;
            var housing = await desk.Unit(act.Housing, cancellation);
            if (!housing.Succeeded) return housing.Refusal;
            var valve = await desk.Unit(act.Valve, cancellation);
            if (!valve.Succeeded) return valve.Refusal;
            var place = await stock.Place(act.Location, cancellation);
            if (!place.Succeeded) return place.Refusal;
            if (Decide(act, housing.Result, valve.Result) is { } refusal) return refusal;
            if (await Held(housing.Result, valve.Result, context, cancellation) is { } held) return held;
            if (act.Origin == PairOrigin.BySelection && await Misfit(housing.Result, valve.Result, context, cancellation) is { } misfit) return misfit;

            var pair = await Join(desk, act.RequestId, code.Result, housing.Result, valve.Result, act.Origin, place.Result.Id, act.Cost, act.Why, context, cancellation);
            return new UnitActed(pair.Code, $"{pair.Tags()} are pair {pair.Code} in {place.Result.Code}. Keep them together.");
        }

        private async Task<Refusal?> Misfit(UnitRow housing, UnitRow valve, ActContext context, CancellationToken cancellation)
        {
            var family = FamilyFit.Of(housing.Family);
            var (bore, spool) = await sizes.Read(housing, valve, family, DateOnly.FromDateTime(context.Now.UtcDateTime), cancellation);
            return Decide(family, bore, spool, await settings.GuardFactor(context.Db, cancellation));
        }

        private static async Task<Refusal?> Held(UnitRow housing, UnitRow valve, ActContext context, CancellationToken cancellation)
        {
            var (one, other) = (housing.Id, valve.Id);
            var held = await context.Db.ProposalLines.Where(row => (row.HousingId == one || row.ValveId == other) && row.State == ProposalState.Held
                && row.Proposal.HeldUntil > context.Now).Select(row => new { row.ProposalId, row.Proposal.MadeBy }).FirstOrDefaultAsync(cancellation);
            return held is null ? null : new Refusal("HELD_BY_PROPOSAL", $"{housing.Tag} or {valve.Tag} is held by proposal {held.ProposalId} of {held.MadeBy}.",
                "Accept that proposal, or let it go first.");
        }
    }

    /// <summary>Null when the two were measured and fit. Where the family states no clearances there is nothing to judge by.</summary>
    public static Refusal? Decide(FamilyFit family, SizedUnit bore, SizedUnit spool, GuardFactor factor)
    {
        if (!family.Limits.Succeeded) return null;
        if ((bore.RefusedByTag ?? spool.RefusedByTag) is { } refused) return refused;
        var judged = new FitRule(family.Limits.Result, factor).Judge(bore.Half, spool.Half);
        return judged.Outcome switch
        {
            FitOutcome.Fits => null,
            FitOutcome.DoesNotFit => new Refusal("DOES_NOT_FIT", $"{bore.Tag} and {spool.Tag}: {judged.Sentence}", "Choose another half: ask for a proposal."),
            _ => new Refusal("CANNOT_TELL", $"{bore.Tag} and {spool.Tag}: {judged.Sentence}", "Measure both with a finer gauge, or choose another half."),
        };
    }

    /// <summary>Writes a pair whose halves were found fit to be one.</summary>
    internal static async Task<PairRow> Join(
        UnitDesk desk, string requestId, string code, UnitRow housing, UnitRow valve, PairOrigin origin, int? locationId, Money cost, string? why,
        ActContext context, CancellationToken cancellation)
    {
        Invariant.Holds(valve.PressureClassId is not null);
        var pair = new PairRow
        {
            Code = code, CodeKey = Tag.KeyOf(code), FamilyId = housing.FamilyId, PressureClassId = valve.PressureClassId.Value, Origin = origin,
            State = PairState.Together, Cost = cost, LocationId = locationId,
        };
        context.Db.Pairs.Add(pair);
        await context.Db.SaveChangesAsync(cancellation);
        foreach (var half in (UnitRow[])[housing, valve])
        {
            half.LocationId = null;
            half.PairId = pair.Id;
            half.Version++;
            desk.Write(context, requestId, "paired", $"pair {code}: {housing.Tag} and {valve.Tag}", why, half.CoreId, half.Id, pair.Id);
        }
        await context.Db.SaveChangesAsync(cancellation);
        await context.Db.Entry(pair).Collection(row => row.Halves).LoadAsync(cancellation);
        return pair;
    }
}
