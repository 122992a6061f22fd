using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>Whether a gauge is good enough and vouched for.</summary>
public static class GaugeRules
{
    /// <summary>Below this many times the uncertainty in the tolerance the gauge is warned about: the old shop rule of four to one.</summary>
    public const int WarnBelowRatio = 4;

    /// <summary>Below this the uncertainty is wider than the tolerance and the gauge tells nothing.</summary>
    public const int RefuseBelowRatio = 1;

    /// <summary>How long before the due day it is warned about.</summary>
    public const int DaysOfNotice = 30;

    /// <summary>
    /// Refusals, the first that applies: <c>GAUGE_UNCERTAINTY</c> (none stated), <c>TOLERANCE_EMPTY</c>, <c>GAUGE_TOO_COARSE</c>,
    /// <c>GAUGE_OVERDUE</c> (release only). Warnings: <c>GAUGE_COARSE</c>, <c>GAUGE_OVERDUE</c>, <c>GAUGE_DUE_SOON</c>,
    /// <c>GAUGE_CALIBRATION_UNKNOWN</c>.
    /// </summary>
    /// <param name="tolerance">Largest allowed clearance minus smallest.</param>
    /// <param name="today">The shop's day.</param>
    public static GaugeVerdict Judge(Gauge gauge, Length tolerance, GaugeUse use, DateOnly today)
    {
        var warnings = new List<GaugeWarning>();
        return new GaugeVerdict(Fineness(gauge, tolerance, warnings) ?? Calibration(gauge, use, today, warnings), warnings);
    }

    private static Refusal? Fineness(Gauge gauge, Length tolerance, List<GaugeWarning> warnings)
    {
        if (gauge.Uncertainty <= Length.Zero)
            return new Refusal("GAUGE_UNCERTAINTY", $"The uncertainty of gauge {gauge.Code} is not known.", "Enter the expanded uncertainty of its calibration certificate.");
        if (tolerance <= Length.Zero)
            return new Refusal("TOLERANCE_EMPTY", "The family's largest clearance is not above its smallest.", "Correct the family's clearances.");
        var facts = $"Gauge {gauge.Code} is uncertain by {MeasureText.Micrometres(gauge.Uncertainty)} and the tolerance is {MeasureText.Micrometres(tolerance)}";
        if (tolerance.Nanometres < (Int128)gauge.Uncertainty.Nanometres * RefuseBelowRatio)
            return new Refusal("GAUGE_TOO_COARSE", $"{facts}: it cannot tell.", "Use a finer gauge.");
        if (tolerance.Nanometres < (Int128)gauge.Uncertainty.Nanometres * WarnBelowRatio)
            warnings.Add(new("GAUGE_COARSE", $"{facts}, less than {WarnBelowRatio} to 1.", "Use a finer gauge where there is one; many pairs will be untold."));
        return null;
    }

    private static Refusal? Calibration(Gauge gauge, GaugeUse use, DateOnly today, List<GaugeWarning> warnings)
    {
        if (gauge.DueOn is { } due)
        {
            var overdue = $"Gauge {gauge.Code} was due for calibration on {due:yyyy-MM-dd}";
            if (today > due && use == GaugeUse.Release)
                return new Refusal("GAUGE_OVERDUE", $"{overdue}; nothing is released by it.", "Measure with a gauge whose calibration counts, or have this one calibrated.");
            if (today > due) warnings.Add(new("GAUGE_OVERDUE", $"{overdue}.", "Have it calibrated: nothing can be released by it."));
            else if (due.DayNumber - today.DayNumber <= DaysOfNotice)
                warnings.Add(new("GAUGE_DUE_SOON", $"Gauge {gauge.Code} is due for calibration on {due:yyyy-MM-dd}.", "Plan its calibration."));
        }
        if (gauge.DueOn is null || gauge.CalibratedOn is null || gauge.CalibratedOn > today)
            warnings.Add(new("GAUGE_CALIBRATION_UNKNOWN", $"When gauge {gauge.Code} was calibrated, or until when that counts, is not known.", "Enter both days of its certificate."));
        return null;
    }
}
