using System.ComponentModel;
using GraphQL;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Fit;

/// <summary>What the API can be asked about measurements and pairing.</summary>
public sealed class PairingFields
{
    private PairingFields() { }

    [Description("Which loose valve goes into which loose housing. A proposal: nothing is changed.")]
    public static async Task<PairProposalView> ProposePairs([FromServices] Asking asking, [Description("The family's code.")] string family,
        [Description("Only valves of this class; every class when left out.")] string? ofClass = null,
        [Description("Loose halves that came out of one core and still fit go to each other first.")] bool keepTogether = false,
        [Description("Classes whose jobs are served before the rest, the most urgent first.")] IEnumerable<ClassPiecesInput>? first = null,
        [Description("Housings kept for a class.")] IEnumerable<ClassPiecesInput>? reserve = null, CancellationToken cancellation = default)
    {
        var answer = await asking.Answer<ProposePairs.Query, ProposePairs.Answer>(
            new(family, ofClass, keepTogether, [.. (first ?? []).Select(one => one.Read())], [.. (reserve ?? []).Select(one => one.Read())]), cancellation);
        return new(answer.Shown, answer);
    }

    [Description("Does this valve go into this housing, and what does the clearance mean with warm oil?")]
    public static async Task<FitView> JudgeFit([FromServices] Asking asking, [Description("The housing's tag.")] string housing,
        [Description("The valve's tag.")] string valve, [Description("The pump's working temperature in degrees Celsius.")] decimal warmCelsius = 80,
        [Description("The oil's ISO viscosity grade.")] int oilGrade = 32, [Description("Idling speed, a minute.")] int idleRpm = 700,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<JudgeFit.Query, JudgeFit.Answer>(new(housing, valve, warmCelsius, oilGrade, idleRpm), cancellation));

    [Description("What readings say before they are written down: the size, the form, and whether the unit would go with another. Nothing is kept.")]
    public static async Task<ReadingsJudgedView> JudgeReadings([FromServices] Asking asking, [Description("The tag of the housing or valve.")] string unit,
        [Description("The gauge's code.")] string gauge, [Description("Temperature of the piece in degrees Celsius.")] decimal celsius,
        [Description("One or more readings with ; between them, in millimetres where no unit stands behind.")] string readings,
        [Description("The tag of the half it is to go with.")] string? with = null, CancellationToken cancellation = default) =>
        new(await asking.Answer<JudgeReadings.Query, JudgeReadings.Answer>(new(unit, gauge, MeasurementLineInput.MilliCelsius(celsius), readings, with), cancellation));

    [Description("What honing would buy for the halves that no proposed pair takes, and which valve sizes to order. A plan: nothing is changed.")]
    public static async Task<HoningPlanView> PlanHoning([FromServices] Asking asking, [Description("The family's code.")] string family,
        [Description("By how much one step enlarges a bore, in micrometres.")] decimal stepUm, [Description("The most a bore may be enlarged, in micrometres.")] decimal limitUm,
        [Description("Only valves of this class.")] string? ofClass = null, [Description("What a step costs, in minutes or money.")] decimal costPerStep = 1,
        [Description("Width of the order list's size classes, in micrometres.")] decimal binUm = 2, CancellationToken cancellation = default) =>
        new(await asking.Answer<PlanHoning.Query, PlanHoning.Answer>(new(family, ofClass, stepUm, limitUm, costPerStep, binUm), cancellation));

    [Description("Every measurement of a unit, the latest first, each compared with the one before it.")]
    public static async Task<MeasurementsView> Measurements([FromServices] Asking asking, [Description("The unit's tag.")] string tag,
        CancellationToken cancellation = default) => new(await asking.Answer<MeasurementsOf.Query, MeasurementsOf.Answer>(new(tag), cancellation));

    [Description("The shop's gauges by code, with when they are due.")]
    public static async Task<Connection<GaugeView>> Gauges([FromServices] Asking asking,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("gauges", (await asking.Answer<FindGauges.Query, Page<FindGauges.Gauge>>(
            new(PageRequest.Read("gauges", first, after).OrRefuse()), cancellation)).Select(gauge => new GaugeView(gauge)));

    [Description("Proposals of which something is still held, oldest first.")]
    public static async Task<Connection<ProposalInHandView>> HeldProposals([FromServices] Asking asking,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("held-proposals", (await asking.Answer<HeldProposals.Query, Page<HeldProposals.Held>>(
            new(PageRequest.Read("held-proposals", first, after).OrRefuse()), cancellation)).Select(held => new ProposalInHandView(held)));
}
