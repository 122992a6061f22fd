using FluentValidation;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// The shims under the relief spring go back as they came. At assembly they are counted and measured again; a difference to the tear-down
/// is refused and names both figures. What was never recorded is recorded now, once.
/// </summary>
public static class ConfirmShims
{
    /// <summary>What two honest measurements of one stack may differ by: common practice, no source.</summary>
    public static readonly Length Tolerance = Length.FromNanometres(10 * Length.NanometresPerMicrometre);

    /// <param name="Record">First recording at tear-down instead of the confirmation at assembly.</param>
    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, string Valve, int Count, long StackNanometres, bool Record = false) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Valve).Named("valve's tag");
            RuleFor(c => c.Count).InclusiveBetween(0, 50).WithErrorCode("SHIMS_OUT_OF_RANGE").WithMessage("A valve has 0 to 50 shims.").WithState(_ => "Count them again.");
            RuleFor(c => c.StackNanometres).InclusiveBetween(0, 20 * Length.NanometresPerMillimetre).WithErrorCode("SHIMS_OUT_OF_RANGE")
                .WithMessage("A shim stack is 0 to 20 mm thick.").WithState(_ => "Measure the stack again, in millimetres.");
        }
    }

    public static Refusal? Decide(Command act, UnitRow valve)
    {
        if (valve.Role != UnitRole.Valve) return UnitRefusals.WrongRole(valve, UnitRole.Valve);
        if (act.Record)
            return valve.ShimCount is null ? null : new Refusal("SHIMS_ALREADY_RECORDED",
                $"Valve {valve.Tag} came with {Figures(valve.ShimCount, valve.ShimStack)}.", "They go back as they came; confirm them at assembly.");
        if (valve.ShimCount is null)
            return new Refusal("SHIMS_UNKNOWN", $"The shims of valve {valve.Tag} were not recorded at tear-down.", "A supervisor must say how the valve's class is known.");
        var difference = Math.Abs(act.StackNanometres - (valve.ShimStack ?? Length.Zero).Nanometres);
        if (act.Count != valve.ShimCount || (valve.ShimStack is not null && difference > Tolerance.Nanometres))
            return new Refusal("SHIMS_DIFFER",
                $"SHIMS DIFFER: valve {valve.Tag} came with {Figures(valve.ShimCount, valve.ShimStack)}, now there are {Figures(act.Count, Length.FromNanometres(act.StackNanometres))}.",
                "Do not release the pump: find the shims that belong to this valve. They set its pressure.");
        return null;
    }

    private static string Figures(int? count, Length? stack) => stack is null ? $"{count} shims" : $"{count} shims, {stack.Value.ToMillimetres():0.000} mm";

    public sealed class Handler(UnitDesk desk) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Unit(act.Valve, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var valve = found.Result;
            if (Decide(act, valve) is { } refusal) return refusal;
            var figures = Figures(act.Count, Length.FromNanometres(act.StackNanometres));
            if (act.Record)
            {
                valve.ShimCount = act.Count;
                valve.ShimStack = Length.FromNanometres(act.StackNanometres);
                valve.Version++;
            }
            desk.Write(context, act.RequestId, act.Record ? "shims recorded" : "shims confirmed", figures, unitId: valve.Id);
            return new UnitActed(valve.Tag, $"Valve {valve.Tag}: {figures}, {(act.Record ? "recorded" : "as they came")}.");
        }
    }
}
