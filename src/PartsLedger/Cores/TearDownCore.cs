using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Cores;

/// <summary>
/// A graded core is taken to pieces: its housing and valve get tags (and stay a pair, as received), its sound pieces go into stock as
/// used, through the ledger, with the core as where they came from.
/// </summary>
public static class TearDownCore
{
    /// <param name="Pair">The code of the pair, when housing and valve stay together; null when only one of them is kept.</param>
    /// <param name="Location">Where the housing and valve, or the pair, are kept.</param>
    [Allowed(Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Core, Half? Housing, Half? Valve, string? Pair, string Location, IReadOnlyList<UsedPart> Parts) : IAct<CoreActed>;

    /// <param name="PressureClass">A valve's class; null takes the core's variant's.</param>
    /// <param name="ShimCount">Shims under the relief spring, as found; a valve only.</param>
    /// <param name="ShimStackNanometres">Thickness of the stack, as found.</param>
    public sealed record Half(string Tag, string? Part = null, string? PressureClass = null, int? ShimCount = null, long? ShimStackNanometres = null);

    public sealed record UsedPart(string Part, Quantity Quantity, string Location, string? Lot = null);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Core).Named("core's tag");
            RuleFor(c => c.Location).Named("place");
            RuleFor(c => c.Parts.Count).LessThanOrEqualTo(200).WithErrorCode("TOO_MANY_LINES").WithMessage("At most 200 parts at once.").WithState(_ => "Send fewer.");
            RuleForEach(c => c.Parts).ChildRules(part =>
            {
                part.RuleFor(p => p.Part).Named("part number");
                part.RuleFor(p => p.Location).Named("place");
                part.RuleFor(p => p.Quantity).Positive();
            });
            RuleFor(c => c.Pair).Must((act, pair) => (pair is not null) == (act.Housing is not null && act.Valve is not null))
                .WithErrorCode("PAIR_STAYS_TOGETHER").WithMessage("A housing and a valve out of one core stay a pair, and a pair needs both.")
                .WithState(_ => "Give the pair's code when both are kept, and none when only one is.");
            RuleFor(c => c.Valve).Must(valve => valve is null or { ShimCount: >= 0, ShimStackNanometres: >= 0 })
                .WithErrorCode("SHIMS_MISSING").WithMessage("The valve's shims were not recorded.")
                .WithState(_ => "Count the shims under the relief spring and measure the stack before anything is mixed up.");
        }
    }

    public static Refusal? Decide(Command act, CoreRow core, PressureClassOf? valveClass)
    {
        if (CoreCourse.Refuse(core, CoreState.TornDown) is { } refusal) return refusal;
        if (core.FamilyId is null && (act.Housing is not null || act.Valve is not null))
            return new Refusal("FAMILY_UNKNOWN", $"The family of core {core.Tag} is not known, so its halves cannot be tagged.", "Identify the pump first.");
        if (act.Valve is { } valve && valveClass is null)
            return new Refusal("CLASS_MISSING", $"The pressure class of valve {valve.Tag} is not known.", "Give the class, or identify the core's variant first.");
        return null;
    }

    public sealed record PressureClassOf(int Id, string Code);

    public sealed class Handler(CoreDesk desk, UnitDesk units, StockDesk stock, Ledger ledger) : IActHandler<Command, CoreActed>
    {
        public async Task<Outcome<CoreActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Core(act.Core, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var core = found.Result;
            var place = await stock.Place(act.Location, cancellation);
            if (!place.Succeeded) return place.Refusal;
            var valveClass = await ClassOf(act.Valve, core, context, cancellation);
            if (!valveClass.Succeeded) return valveClass.Refusal;
            if (Decide(act, core, valveClass.Result.Class) is { } refusal) return refusal;

            var tags = new List<string>();
            foreach (var tag in (string?[])[act.Housing?.Tag, act.Valve?.Tag, act.Pair])
            {
                if (tag is null) continue;
                var fresh = await units.NewTag(tag, cancellation);
                if (!fresh.Succeeded) return fresh.Refusal;
                if (tags.Contains(Tag.KeyOf(fresh.Result))) return UnitRefusals.TagTaken(fresh.Result, "another half of the same core");
                tags.Add(Tag.KeyOf(fresh.Result));
            }
            var movements = await Movements(act, context, cancellation);
            if (!movements.Succeeded) return movements.Refusal;
            var housing = await Make(act.Housing, UnitRole.Housing, core, null, place.Result, cancellation);
            if (!housing.Succeeded) return housing.Refusal;
            var valve = await Make(act.Valve, UnitRole.Valve, core, valveClass.Result.Class?.Id, place.Result, cancellation);
            if (!valve.Succeeded) return valve.Refusal;

            // From here everything succeeds.
            core.State = CoreState.TornDown;
            core.Version++;
            foreach (var unit in (UnitRow?[])[housing.Result.Row, valve.Result.Row])
                if (unit is not null) context.Db.Units.Add(unit);
            await context.Db.SaveChangesAsync(cancellation);
            foreach (var unit in (UnitRow?[])[housing.Result.Row, valve.Result.Row])
                if (unit is not null) units.Write(context, act.RequestId, "torn down", $"out of core {core.Tag}", null, core.Id, unit.Id);
            if (act.Pair is not null)
                await FormPair.Join(units, act.RequestId, act.Pair.Trim(), housing.Result.Row!, valve.Result.Row!, PairOrigin.AsReceived, place.Result.Id,
                    Money.Zero, "as received", context, cancellation);
            if (movements.Result.Count > 0)
                await ledger.Post(new Posting("tear-down", act.RequestId, null, "core", core.Tag), movements.Result, context, cancellation);
            units.Write(context, act.RequestId, "torn down", $"{act.Parts.Count} used parts into stock", coreId: core.Id);
            return new CoreActed(core.Tag, CoreCourse.Words(core.State), act.Pair is null ? $"Core {core.Tag} is torn down."
                : $"Core {core.Tag} is torn down; {act.Housing!.Tag} and {act.Valve!.Tag} are pair {act.Pair}. Keep them together.");
        }

        private sealed record MaybeClass(PressureClassOf? Class);

        private sealed record MaybeUnit(UnitRow? Row);

        private static async Task<Outcome<MaybeClass>> ClassOf(Half? valve, CoreRow core, ActContext context, CancellationToken cancellation)
        {
            if (valve?.PressureClass is not { Length: > 0 } given)
                return new MaybeClass(core.Variant?.PressureClass is { } own ? new PressureClassOf(own.Id, own.Code) : null);
            var key = Code.KeyOf(given);
            var row = await context.Db.PressureClasses.SingleOrDefaultAsync(row => row.CodeKey == key, cancellation);
            return row is null ? new Refusal("UNKNOWN_CLASS", $"There is no pressure class '{given}'.", "Give one of the shop's classes.")
                : new MaybeClass(new PressureClassOf(row.Id, row.Code));
        }

        private async Task<Outcome<List<Movement>>> Movements(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = new List<(UsedPart Line, StockPart Part, StockPlace Place)>();
            foreach (var line in act.Parts)
            {
                var part = await stock.Part(line.Part, cancellation);
                if (!part.Succeeded) return part.Refusal;
                var to = await stock.Place(line.Location, cancellation);
                if (!to.Succeeded) return to.Refusal;
                if (part.Result.WholePieces && !line.Quantity.IsWhole) return StockRefusals.NotWhole(part.Result.Number, line.Quantity);
                if (part.Result.Tracking != Tracking.Bulk && string.IsNullOrWhiteSpace(line.Lot)) return StockRefusals.LotMissing(part.Result.Number);
                found.Add((line, part.Result, to.Result));
            }
            await ledger.Begin(found.Select(line => line.Part.Id), context.Now, cancellation);
            var movements = new List<Movement>();
            foreach (var (line, part, to) in found)
            {
                var lot = string.IsNullOrWhiteSpace(line.Lot) ? null : await stock.LotOrNew(part, line.Lot, null, null, cancellation);
                movements.Add(new Movement(part.Id, line.Quantity, Slot.Out(OutsideWorld.Customer, lot?.Id, StockCondition.Used),
                    Slot.In(to.Id, lot?.Id, StockCondition.Used), Money.Zero));
            }
            return movements;
        }

        private async Task<Outcome<MaybeUnit>> Make(Half? half, UnitRole role, CoreRow core, int? classId, StockPlace place, CancellationToken cancellation)
        {
            if (half is null) return new MaybeUnit(null);
            int? partId = null;
            if (half.Part is { Length: > 0 } number)
            {
                var part = await stock.Part(number, cancellation);
                if (!part.Succeeded) return part.Refusal;
                partId = part.Result.Id;
            }
            Invariant.Holds(core.FamilyId is not null);
            return new MaybeUnit(new UnitRow
            {
                Tag = half.Tag.Trim(), TagKey = Tag.KeyOf(half.Tag), Role = role, FamilyId = core.FamilyId.Value, PressureClassId = classId, PartId = partId,
                CoreId = core.Id, State = UnitState.Serviceable, LocationId = place.Id, ShimCount = half.ShimCount,
                ShimStack = half.ShimStackNanometres is { } stack ? Length.FromNanometres(stack) : null,
            });
        }
    }
}
