using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Flow;

namespace PartsLedger.Fit;

// Measuring and pairing, as the API shows them.

[Name("PairProposal")]
[Description("Which valve goes into which housing: the greatest number of pairs that fit, and among those the least deviation.")]
public sealed class PairProposalView(ProposePairs.Shown shown, ProposePairs.Answer? answer)
{
    [Description("The family's code.")]
    public string Family => shown.Family;

    [Description("The pressure class it was asked for; null for every class.")]
    public string? Class => shown.Class;

    [Description("The proposed pairs, by the housing's tag.")]
    public IEnumerable<ProposedPairView> Pairs => shown.Pairs.Select(pair => new ProposedPairView(pair));

    [Description("How many pairs.")]
    public int Count => shown.Count;

    [Description("Sum of the squared deviations from the best clearance, in square micrometres.")]
    public decimal SumSquaredDeviationUm2 => shown.SumSquaredDeviationUm2;

    [Description("That sum is proved the least with so many pairs; null for a proposal that is held.")]
    public bool? IsLeast => answer?.IsLeast;

    [Description("Loose housings that are in no pair, and why.")]
    public IEnumerable<UnpairedView> UnpairedHousings => shown.UnpairedHousings.Select(unit => new UnpairedView(unit));

    [Description("Loose valves that are in no pair, and why.")]
    public IEnumerable<UnpairedView> UnpairedValves => shown.UnpairedValves.Select(unit => new UnpairedView(unit));

    [Description("What to know of the gauges.")]
    public IReadOnlyList<string> Warnings => answer?.Warnings ?? [];
}

[Name("ProposedPair")]
[Description("A housing and a valve that fit.")]
public sealed class ProposedPairView(ProposePairs.Pair pair)
{
    [Description("The housing's tag.")]
    public string Housing => pair.Housing;

    [Description("The valve's tag.")]
    public string Valve => pair.Valve;

    [Description("Bore less spool at 20 °C, in micrometres.")]
    public decimal ClearanceUm => pair.ClearanceUm;

    [Description("Clearance less the best one, in micrometres.")]
    public decimal DeviationUm => pair.DeviationUm;
}

[Name("Unpaired")]
[Description("A loose half that is in no proposed pair.")]
public sealed class UnpairedView(ProposePairs.Unpaired unit)
{
    [Description("Its tag.")]
    public string Tag => unit.Tag;

    [Description("Why, in a sentence.")]
    public string Why => unit.Why;
}

[Name("ClassPieces")]
[Description("So many of a pressure class.")]
public sealed class ClassPiecesInput
{
    [Description("The pressure class's code.")]
    public string Class { get; init; } = "";

    [Description("How many, 1 and up.")]
    public int Pieces { get; init; }

    internal ProposePairs.ClassPieces Read() => new(Class, Pieces);
}

[Name("HeldProposal")]
[Description("A proposal that is held: its halves are proposed to nobody else until then.")]
public sealed class HeldProposalView(HoldProposal.Answer answer)
{
    [Id]
    [Description("Its number, for accepting it.")]
    public long Proposal => answer.Proposal;

    [Description("Until when it is held, in UTC.")]
    public DateTimeOffset HeldUntil => answer.HeldUntil;

    [Description("What it proposes.")]
    public PairProposalView Proposed => new(answer.Shown, null);
}

[Name("ProposalInHand")]
[Description("A proposal of which something is still held.")]
public sealed class ProposalInHandView(HeldProposals.Held held)
{
    [Id]
    [Description("Its number, for accepting it or letting it go.")]
    public long Proposal => held.Proposal;

    [Description("The family's code.")]
    public string Family => held.Family;

    [Description("Who holds it.")]
    public string By => held.By;

    [Description("Until when, in UTC.")]
    public DateTimeOffset Until => held.Until;

    [Description("The pairs that are still held.")]
    public IEnumerable<ProposedPairView> Pairs => held.Pairs.Select(pair => new ProposedPairView(pair));
}

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

[Name("JoinedPairs")]
[Description("Pairs made out of a proposal.")]
public sealed class JoinedPairsView(AcceptProposal.Answer answer)
{
    [Description("The pairs, by the housing's tag.")]
    public IEnumerable<JoinedPairView> Pairs => answer.Pairs.Select(pair => new JoinedPairView(pair));

    [Description("How many pairs of the proposal are still held.")]
    public int StillHeld => answer.StillHeld;
}

[Name("JoinedPair")]
[Description("A pair, its code for both halves' labels.")]
public sealed class JoinedPairView(AcceptProposal.Joined joined)
{
    [Description("The pair's code.")]
    public string Pair => joined.Pair;

    [Description("The housing's tag.")]
    public string Housing => joined.Housing;

    [Description("The valve's tag.")]
    public string Valve => joined.Valve;
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

    // Far outside what is measured at: refused by the act's own rule.
    internal RecordMeasurements.Line Read() =>
        new(Unit, Gauge, (int)decimal.Round(Math.Clamp(TemperatureC, -1_000_000m, 1_000_000m) * 1000), Readings, DepthsMm, Angles, TakenAt, By);
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

[Name("HoningPlan")]
[Description("Which bores to enlarge, and by how much. A bore is measured again before it is believed.")]
public sealed class HoningPlanView(PlanHoning.Answer answer)
{
    [Description("The most further pairs, at the least cost; by the housing's tag.")]
    public IEnumerable<HonedPairView> Pairs => answer.Plan.Select(pair => new HonedPairView(pair));

    [Description("The least that one further pair costs, two, and so on: stop where the next is not worth it.")]
    public IReadOnlyList<decimal> LeastCost => answer.LeastCost;

    [Description("Valve sizes that the housings left over need, against those on hand.")]
    public IEnumerable<SizeClassView> Sizes => answer.Sizes.Select(size => new SizeClassView(size));
}

[Name("HonedPair")]
[Description("A pair that a honed bore makes possible.")]
public sealed class HonedPairView(PlanHoning.Honed pair)
{
    [Description("The housing's tag.")]
    public string Housing => pair.Housing;

    [Description("The valve's tag.")]
    public string Valve => pair.Valve;

    [Description("By how much to enlarge the bore, in micrometres.")]
    public decimal EnlargeUm => pair.EnlargeUm;

    [Description("What that costs.")]
    public decimal Cost => pair.Cost;

    [Description("The clearance once honed, in micrometres.")]
    public decimal ClearanceUm => pair.ClearanceUm;

    [Description("That clearance less the best one, in micrometres.")]
    public decimal DeviationUm => pair.DeviationUm;
}

[Name("SizeClass")]
[Description("A class of valve sizes.")]
public sealed class SizeClassView(PlanHoning.SizeClass size)
{
    [Description("Least size in it, in millimetres.")]
    public decimal FromMm => size.FromMm;

    [Description("Least size beyond it, in millimetres.")]
    public decimal BelowMm => size.BelowMm;

    [Description("Housings left over whose best valve is of such a size.")]
    public int Needed => size.Needed;

    [Description("Valves left over of such a size.")]
    public int OnHand => size.OnHand;

    [Description("How many are missing.")]
    public int ToOrder => size.ToOrder;
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
