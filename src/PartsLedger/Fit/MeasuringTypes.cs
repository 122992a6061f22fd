using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Flow;

namespace PartsLedger.Fit;

// Gauges, measurements and what they say of a fit, as the API shows them.

[Name("Gauge")]
[Description("A gauge of the register.")]
public sealed class GaugeView(FindGauges.Gauge gauge)
{
    [Description("Its code.")]
    public string Code => gauge.Code;

    [Description("What it is.")]
    public string Kind => gauge.Kind;

    [Description("Its expanded uncertainty (k = 2), in micrometres.")]
    public decimal UncertaintyUm => gauge.UncertaintyUm;

    [Description("When it was calibrated; null when that is not known.")]
    public DateOnly? CalibratedOn => gauge.CalibratedOn;

    [Description("Until when that counts; null when that is not known.")]
    public DateOnly? DueOn => gauge.DueOn;

    [Description("That day is past, in UTC: nothing is released by it.")]
    public bool Overdue => gauge.Overdue;

    [Description("How many measurements were taken with it.")]
    public int Measurements => gauge.Measurements;
}

[Name("MeasurementLine")]
[Description("What was measured of one unit.")]
public sealed class MeasurementLineInput
{
    [Description("The unit's tag.")]
    public string Unit { get; init; } = "";

    [Description("The gauge's code.")]
    public string Gauge { get; init; } = "";

    [Description("Of the piece while it was measured, in degrees Celsius.")]
    public decimal TemperatureC { get; init; }

    [Description("One or more diameters with ; between them, in millimetres where no unit stands behind: 15.8761;15.8764.")]
    public string Readings { get; init; } = "";

    [Description("Where each reading was taken, in millimetres from the edge; as many as readings, or none.")]
    public IReadOnlyList<decimal>? DepthsMm { get; init; }

    [Description("Around the axis in degrees; as many as readings, or none.")]
    public IReadOnlyList<int>? Angles { get; init; }

    [Description("When; now when left out.")]
    public DateTimeOffset? TakenAt { get; init; }

    [Description("Who measured; the sender when left out.")]
    public string? By { get; init; }

    // Far outside what is measured at: refused by the request's own rule.
    internal static int MilliCelsius(decimal celsius) => (int)decimal.Round(Math.Clamp(celsius, -1_000_000m, 1_000_000m) * 1000);

    internal RecordMeasurements.Line Read() =>
        new(Unit, Gauge, MilliCelsius(TemperatureC), Readings, DepthsMm, Angles, TakenAt, By);
}

[Name("RecordedMeasurements")]
[Description("What the measurements say, unit by unit.")]
public sealed class RecordedMeasurementsView(RecordMeasurements.Answer answer)
{
    [Description("In the order they were sent.")]
    public IEnumerable<MeasuredUnitView> Units => answer.Units.Select(unit => new MeasuredUnitView(unit));
}

[Name("MeasuredUnit")]
[Description("What one measurement says of its unit, at 20 °C.")]
public sealed class MeasuredUnitView(RecordMeasurements.Measured measured)
{
    [Description("The unit's tag.")]
    public string Tag => measured.Tag;

    [Description("Mean of the readings, in millimetres.")]
    public decimal SizeMm => measured.SizeMm;

    [Description("Largest reading less smallest, in micrometres.")]
    public decimal FormUm => measured.FormUm;

    [Description("The same at one depth, where that is most; null without two readings at one depth.")]
    public decimal? RoundnessUm => measured.RoundnessUm;

    [Description("Largest less smallest mean by depth, in micrometres; null without two depths.")]
    public decimal? TaperUm => measured.TaperUm;

    [Description("How it compares with the measurement it supersedes, in a sentence.")]
    public string? Agreement => measured.Agreement;

    [Description("What to know of the gauge and the form.")]
    public IReadOnlyList<string> Warnings => measured.Warnings;
}

[Name("Measurements")]
[Description("Every measurement of a unit, the latest first.")]
public sealed class MeasurementsView(MeasurementsOf.Answer answer)
{
    [Description("The unit's tag.")]
    public string Tag => answer.Tag;

    [Description("The latest first.")]
    public IEnumerable<MeasurementEntryView> Entries => answer.Entries.Select(entry => new MeasurementEntryView(entry));
}

[Name("MeasurementEntry")]
[Description("One measurement.")]
public sealed class MeasurementEntryView(MeasurementsOf.Entry entry)
{
    [Description("When, in UTC.")]
    public DateTimeOffset TakenAt => entry.TakenAt;

    [Description("Who measured.")]
    public string By => entry.By;

    [Description("The gauge's code.")]
    public string Gauge => entry.Gauge;

    [Description("The gauge's expanded uncertainty (k = 2), in micrometres.")]
    public decimal UncertaintyUm => entry.UncertaintyUm;

    [Description("Of the piece, in degrees Celsius.")]
    public decimal Celsius => entry.Celsius;

    [Description("As read, in millimetres.")]
    public IReadOnlyList<decimal> ReadingsMm => entry.ReadingsMm;

    [Description("Mean at 20 °C, in millimetres; null where the readings cannot be used.")]
    public decimal? SizeMm => entry.SizeMm;

    [Description("Largest less smallest at 20 °C, in micrometres.")]
    public decimal? FormUm => entry.FormUm;

    [Description("Why the readings cannot be used.")]
    public string? Problem => entry.Problem;

    [Description("The difference to the measurement before is within the uncertainty of both; null for the first.")]
    public bool? Agrees => entry.Agrees;

    [Description("That difference in parts of the uncertainty: up to 1 they agree.")]
    public double? EnNumber => entry.EnNumber;
}

[Name("Fit")]
[Description("Whether a valve goes into a housing, and what the clearance means.")]
public sealed class FitView(JudgeFit.Answer answer)
{
    [Description("Fits, does not fit, or cannot be told with these gauges.")]
    public FitOutcome Outcome => answer.Outcome;

    [Description("Bore less spool at 20 °C, in micrometres.")]
    public decimal ClearanceUm => answer.ClearanceUm;

    [Description("Clearance less the best one, in micrometres.")]
    public decimal DeviationUm => answer.DeviationUm;

    [Description("That the true clearance is within the limits, 0 to 1.")]
    public double Probability => answer.Probability;

    [Description("For the person at the bench.")]
    public string Sentence => answer.Sentence;

    [Description("Bore less spool at the working temperature, in micrometres.")]
    public decimal WarmClearanceUm => answer.WarmClearanceUm;

    [Description("What leaks past the spool at the class's relief pressure with warm oil, in millilitres a minute.")]
    public BandView? LeakMlPerMinute => answer.LeakMlPerMinute is { } band ? new(band) : null;

    [Description("That leak as a part of the pump's flow at idle, 0 to 1.")]
    public BandView? LeakShareAtIdle => answer.LeakShareAtIdle is { } band ? new(band) : null;

    [Description("What could not be reckoned, and where a formula is near its limits.")]
    public IReadOnlyList<string> Doubts => answer.Doubts;
}

[Name("ReadingsJudged")]
[Description("What readings say that were not written down yet.")]
public sealed class ReadingsJudgedView(JudgeReadings.Answer answer)
{
    [Description("The unit's tag.")]
    public string Tag => answer.Tag;

    [Description("At 20 °C, in millimetres.")]
    public decimal SizeMm => answer.SizeMm;

    [Description("How much the readings differ, in micrometres.")]
    public decimal FormUm => answer.FormUm;

    [Description("Whether the two would fit; null where no other half was named or the form is beyond what may be paired.")]
    public FitOutcome? Outcome => answer.Outcome;

    [Description("Bore less spool at 20 °C, in micrometres.")]
    public decimal? ClearanceUm => answer.ClearanceUm;

    [Description("For the person at the bench.")]
    public string? Sentence => answer.Sentence;

    [Description("What to beware of.")]
    public IReadOnlyList<string> Warnings => answer.Warnings;
}

[Name("Band")]
[Description("A figure with the range it may be in: no more digits than are known.")]
public sealed class BandView(Band band)
{
    [Description("The likeliest.")]
    public double Value => band.Value;

    [Description("The least.")]
    public double Low => band.Low;

    [Description("The most.")]
    public double High => band.High;

    [Description("As it should be read and shown: no more digits than are known.")]
    public string Text => band.ToString();
}

[Name("FitOutcome")]
public sealed class FitOutcomeGraphType : EnumerationGraphType<FitOutcome>
{
    public FitOutcomeGraphType()
    {
        Description = "What the gauges say of two halves.";
        foreach (var value in Values)
            value.Description = value.Name switch
            {
                "FITS" => "Within the limits, the uncertainty allowed for.",
                "DOES_NOT_FIT" => "Outside the limits, the uncertainty allowed for.",
                _ => "Too near a limit for these gauges.",
            };
    }
}
