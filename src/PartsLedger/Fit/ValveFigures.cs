using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Fit;

/// <summary>
/// What the figures of a valve lead one to expect: relief pressure from spring, seat and shims, and the flow that a two-stage metering valve
/// lets through. Reckoned from what is given; reads nothing from the books.
/// </summary>
public sealed class ValveFigureFields
{
    private ValveFigureFields() { }

    [Description("At which pressure a relief valve is expected to open, and what the loss of a shim would do: a reason to put back what came out, never a way to set a pressure.")]
    public static ReliefFiguresView ReliefFigures(
        [Description("Area of the seat in square millimetres.")] double seatMm2, [Description("Rate of the spring in newtons a millimetre.")] double rateNPerMm,
        [Description("How far the spring is pressed together without a shim, in millimetres.")] double barePreloadMm,
        [Description("Thickness of all shims together, in millimetres.")] decimal shimStackMm,
        [Description("Thickness of one shim that might be missing, in millimetres.")] decimal? missingShimMm = null,
        [Description("By how many percent seat, rate and preload may be off.")] double percent = 3)
    {
        foreach (var number in (ReadOnlySpan<double>)[seatMm2, rateNPerMm, barePreloadMm, percent]) Finite(number);
        if (percent is < 0 or > 50) throw Refused("PERCENT_RANGE", $"Figures that may be off by {percent} percent say nothing.", "Give 0 to 50.");
        var valve = ReliefValve.Of(Band.Percent(seatMm2, percent), Band.Percent(rateNPerMm, percent), Band.Percent(barePreloadMm, percent), Millimetres(shimStackMm)).OrRefuse();
        return new(valve, missingShimMm is { } shim ? valve.Without(Millimetres(shim)).OrRefuse() : null);
    }

    [Description("The flow that a two-stage metering valve regulates to at low and at high speed, from its two orifices and the spring that holds the pressure drop.")]
    public static MeteredFlowView MeteredFlow(
        [Description("Area of the fixed orifice in square millimetres.")] double fixedMm2,
        [Description("Area of the second orifice while nothing narrows it, in square millimetres.")] double openMm2,
        [Description("Area of the second orifice at high speed, in square millimetres; zero where it is shut.")] double narrowedMm2,
        [Description("Force of the valve's spring where it regulates, in newtons.")] double springN,
        [Description("Area of the spool's end in square millimetres.")] double spoolEndMm2,
        [Description("Speed at which the second orifice begins to narrow, a minute.")] double narrowsFromRpm,
        [Description("Speed at which it is narrowed, a minute.")] double narrowedAtRpm,
        [Description("The oil's density in kilograms a cubic metre.")] double density = 850, [Description("By how many percent areas and force may be off.")] double percent = 3)
    {
        foreach (var number in (ReadOnlySpan<double>)[fixedMm2, openMm2, narrowedMm2, springN, spoolEndMm2, narrowsFromRpm, narrowedAtRpm, density, percent]) Finite(number);
        if (percent is < 0 or > 50) throw Refused("PERCENT_RANGE", $"Figures that may be off by {percent} percent say nothing.", "Give 0 to 50.");
        var valve = MeteringValve.Of(new MeteringOrifices(Orifice.SharpEdged, Band.Percent(fixedMm2, percent), Band.Percent(openMm2, percent),
            Band.Percent(narrowedMm2, percent), narrowsFromRpm, narrowedAtRpm), Band.Percent(springN, percent), Band.Percent(spoolEndMm2, percent), Band.Percent(density, 2)).OrRefuse();
        return new(valve);
    }

    private static Length Millimetres(decimal length) => Length.FromNanometres((long)decimal.Round(Math.Clamp(length, -1_000m, 1_000m) * Length.NanometresPerMillimetre));

    private static void Finite(double number)
    {
        if (!double.IsFinite(number) || Math.Abs(number) > 1e9) throw Refused("NUMBER_RANGE", "A figure is no number that a valve has.", "Check it and its unit.");
    }

    private static QueryRefused Refused(string code, string sentence, string whatToDo) => new(new Refusal(code, sentence, whatToDo));
}

[Name("ReliefFigures")]
[Description("What a relief valve is expected to do. The maker's service information comes before it.")]
public sealed class ReliefFiguresView(ReliefValve valve, MissingShim? missing)
{
    [Description("Where it begins to open, in kilopascals.")]
    public BandView OpensAtKpa => new(valve.OpensAtKilopascals);

    [Description("Where it would open without the shim asked about, in kilopascals.")]
    public BandView? WithoutShimKpa => missing is null ? null : new(missing.OpensAtKilopascals);

    [Description("Why shims are not changed, in a sentence.")]
    public string? Reason => missing?.Reason;
}

[Name("MeteredFlow")]
[Description("What a metering valve regulates to.")]
public sealed class MeteredFlowView(MeteringValve valve)
{
    [Description("At low speed, in litres a minute.")]
    public BandView LowSpeedLpm => new(valve.AtLowSpeed);

    [Description("At high speed, in litres a minute.")]
    public BandView HighSpeedLpm => new(valve.AtHighSpeed);

    [Description("The pressure drop that the spring holds, in kilopascals.")]
    public BandView DropKpa => new(valve.DropKilopascals);
}
