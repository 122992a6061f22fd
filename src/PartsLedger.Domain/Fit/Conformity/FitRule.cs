using System.Globalization;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Conformity;

/// <summary>
/// Judges a pair after ISO 14253-1. Form makes the clearance tighter and looser than its mean in places by half of both forms, F, so the
/// mean must lie from min + F to max − F; around each of these two there is a zone of g (U_bore + U_spool) either way in which the gauges
/// cannot tell. All comparisons are exact, in half-nanometres:
/// <list type="bullet">
/// <item>fits: min + e_bore + e_spool ≤ clearance ≤ max − e_bore − e_spool, with the <see cref="Guard"/>s of both;</item>
/// <item>does not fit: clearance &lt; min + F − g U or clearance &gt; max − F + g U, or the forms alone leave no clearance that would do;</item>
/// <item>cannot be told: everything else.</item>
/// </list>
/// With g = 0 the zone is gone and there are two answers. The uncertainties are added, which is more careful than the root of their squares
/// by which <see cref="FitJudgement.Probability"/> is reckoned.
/// </summary>
public sealed record FitRule(ClearanceLimits Limits, GuardFactor Factor = default)
{
    public FitJudgement Judge(MeasuredHalf housing, MeasuredHalf valve)
    {
        var clearance = housing.Size - valve.Size;
        var twice = (Int128)clearance.Nanometres * 2;
        var guard = (Int128)Guard.Of(housing.Form, housing.Uncertainty, Factor).HalfNanometres + Guard.Of(valve.Form, valve.Uncertainty, Factor).HalfNanometres;
        var form = (Int128)housing.Form.Nanometres + valve.Form.Nanometres;
        var zone = guard - form;
        var (lower, upper) = (((Int128)Limits.Min.Nanometres * 2) + form, ((Int128)Limits.Max.Nanometres * 2) - form);

        var outcome = lower > upper || twice < lower - zone || twice > upper + zone ? FitOutcome.DoesNotFit
            : twice >= lower + zone && twice <= upper - zone ? FitOutcome.Fits
            : FitOutcome.CannotTell;
        var probability = lower > upper ? 0 : Conformance.Probability((double)twice, (double)lower, (double)upper, 2 * StandardUncertainty(housing, valve));
        return new FitJudgement(outcome, clearance, clearance - Limits.Target, probability, Say(outcome, clearance, probability, twice < lower, lower > upper));
    }

    /// <summary>u = √(U_bore² + U_spool²) / 2, in nanometres: U is expanded with k = 2, and the two gauges err independently.</summary>
    public static double StandardUncertainty(MeasuredHalf housing, MeasuredHalf valve) =>
        double.Hypot(housing.Uncertainty.Nanometres, valve.Uncertainty.Nanometres) / 2;

    private string Say(FitOutcome outcome, Length clearance, double probability, bool tight, bool formless)
    {
        var limits = $"{MeasureText.Micrometres(Limits.Min)} to {MeasureText.Micrometres(Limits.Max)}";
        var found = $"A clearance of {MeasureText.Micrometres(clearance)}";
        return outcome switch
        {
            FitOutcome.Fits => $"{found} fits: {limits} are allowed.",
            FitOutcome.DoesNotFit when formless => $"The forms of the two leave no clearance that would be within {limits} everywhere.",
            FitOutcome.DoesNotFit => $"{found} is too {(tight ? "tight" : "loose")}: {limits} are allowed.",
            _ => $"{found} cannot be told from the limits {limits} with these gauges; it fits with a probability of {Percent(probability)}.",
        };
    }

    /// <summary>Whole percents, and never 0 or 100 where it is neither.</summary>
    private static string Percent(double probability) => probability switch
    {
        < 0.01 => "less than 1 %",
        > 0.99 => "more than 99 %",
        _ => probability.ToString("0 %", CultureInfo.InvariantCulture),
    };
}
