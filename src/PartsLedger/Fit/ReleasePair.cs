using FluentValidation;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>A pair whose halves were both measured is released: from then on it is offered as a supply in kits.</summary>
public static class ReleasePair
{
    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, string Pair, string? Note = null) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Pair).Named("pair code");
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    /// <param name="gauges">The gauge of each half's latest measurement; a half that was not measured is left out.</param>
    public static Refusal? Decide(PairRow pair, IReadOnlyDictionary<int, Gauge> gauges, DateOnly today)
    {
        if (pair.State != PairState.Together) return UnitRefusals.PairNotTogether(pair);
        if (pair.Halves.Find(half => !gauges.ContainsKey(half.Id)) is { } half)
            return new Refusal("NOT_MEASURED", $"{half.Tag} of pair {pair.Code} has no measurement.", "Measure both halves, then release the pair.");
        var family = FamilyFit.Of(pair.Family);
        foreach (var one in pair.Halves)
            if (SizedUnits.MayRelease(gauges[one.Id], family, today) is { } gauge) return gauge with { Sentence = $"{one.Tag}: {gauge.Sentence}" };
        if (pair.Valve() is { ShimCount: null } valve)
            return new Refusal("SHIMS_UNKNOWN", $"The shims of valve {valve.Tag} were not recorded.", "Count and measure the shim stack before the pair is released.");
        return null;
    }

    public sealed class Handler(UnitDesk desk, SizedUnits sizes) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var pair = await desk.Pair(act.Pair, cancellation);
            if (!pair.Succeeded) return pair.Refusal;
            var halves = pair.Result.Halves.Select(half => half.Id).ToList();
            if (Decide(pair.Result, await sizes.Gauges(halves, cancellation), DateOnly.FromDateTime(context.Now.UtcDateTime)) is { } refusal) return refusal;
            pair.Result.Released = true;
            pair.Result.Version++;
            desk.Write(context, act.RequestId, "released", null, act.Note, pairId: pair.Result.Id);
            return new UnitActed(pair.Result.Code, $"Pair {pair.Result.Code} is released.");
        }
    }
}
