using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>What the API can do with tagged units and matched pairs.</summary>
public sealed class FitActs
{
    private const string PairText = "The pair's code, or the tag of either half.";
    private const string PlaceText = "The place's code.";
    private const string WhyText = "Why, in a few words.";

    private FitActs() { }

    [Description("A housing and a valve become a pair. From then on the pair has the place and the job, its halves have none.")]
    public static Task<Payload<UnitActedView>> FormPair([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The new pair's code, for both halves' labels.")] string code, [Description("The housing's tag.")] string housing,
        [Description("The valve's tag.")] string valve, [Description("Where the pair is kept.")] string location,
        [Description("Both came out of one core and were never separated; else they were chosen by measurement.")] bool asReceived,
        [Description("What the pair counts for when it is used in a kit; zero when left out.")] decimal? cost = null, [Description(WhyText)] string? why = null,
        CancellationToken cancellation = default) => Act(acting, cost.ToMoney().Then<FormPair.Command>(read => new FormPair.Command(
            requestId, code, housing, valve, asReceived ? PairOrigin.AsReceived : PairOrigin.BySelection, location, read.Money ?? Money.Zero, why)), cancellation);

    [Description("A pair is taken apart on purpose: a supervisor's act. Both halves go into quarantine until they are measured again.")]
    public static Task<Payload<UnitActedView>> TakePairApart([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(PairText)] string pair, [Description("The quarantine place both halves go to.")] string location, [Description(WhyText)] string why,
        CancellationToken cancellation = default) => Act<TakePairApart.Command>(acting, new TakePairApart.Command(requestId, pair, location, why), cancellation);

    [Description("A damaged housing or valve is condemned. Of a pair the other half goes into quarantine, or is condemned with it.")]
    public static Task<Payload<UnitActedView>> CondemnUnit([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The unit's tag.")] string tag, [Description(WhyText)] string why,
        [Description("What becomes of the other half; needed for half of a pair.")] string? otherHalf = null,
        [Description("The other half is condemned too.")] bool condemnOtherToo = false,
        [Description("The quarantine place the other half goes to.")] string? location = null, CancellationToken cancellation = default) =>
        Act<CondemnUnit.Command>(acting, new CondemnUnit.Command(requestId, tag, why, otherHalf, condemnOtherToo, location), cancellation);

    [Description("A half comes out of quarantine, once it has been measured since it went in.")]
    public static Task<Payload<UnitActedView>> ReleaseUnit([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The unit's tag.")] string tag, [Description("The place it goes to.")] string location, [Description(WhyText)] string? why = null,
        CancellationToken cancellation = default) => Act<ReleaseUnit.Command>(acting, new ReleaseUnit.Command(requestId, tag, location, why), cancellation);

    [Description("A pair whose halves were measured is released: from then on it is offered as a supply in kits.")]
    public static Task<Payload<UnitActedView>> ReleasePair([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(PairText)] string pair, [Description("A note.")] string? note = null, CancellationToken cancellation = default) =>
        Act<ReleasePair.Command>(acting, new ReleasePair.Command(requestId, pair, note), cancellation);

    [Description("A loose unit, or by either half the pair as one, goes to another place.")]
    public static Task<Payload<UnitActedView>> MoveUnit([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("A tag or a pair's code.")] string code, [Description(PlaceText)] string to, CancellationToken cancellation = default) =>
        Act<MoveUnit.Command>(acting, new MoveUnit.Command(requestId, code, to), cancellation);

    [Description("A pair is kept for a job of its class, as one, or let go again.")]
    public static Task<Payload<UnitActedView>> KeepPairForJob([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(PairText)] string pair, [Description("The job's own number.")] string job, [Description("The class the job's variant has.")] string pressureClass,
        [Description("Until when; two weeks when left out.")] DateTimeOffset? until = null, [Description("Let it go instead.")] bool letGo = false,
        CancellationToken cancellation = default) => Act<KeepPairForJob.Command>(acting, new KeepPairForJob.Command(requestId, pair, job, pressureClass, until, letGo), cancellation);

    [Description("The shims under the relief spring are counted and measured again at assembly: a difference to the tear-down is refused and names both figures.")]
    public static Task<Payload<UnitActedView>> ConfirmShims([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The valve's tag.")] string valve, [Description("How many shims.")] int count, [Description("Thickness of the stack in millimetres.")] decimal stackMm,
        [Description("First recording, for a valve whose shims were never recorded.")] bool record = false, CancellationToken cancellation = default) =>
        Act<ConfirmShims.Command>(acting, new ConfirmShims.Command(requestId, valve, count, Nanometres(stackMm), record), cancellation);

    [Description("A valve's pressure class is changed: a supervisor's act, with the relief pressure that the bench showed.")]
    public static Task<Payload<UnitActedView>> ReRateValve([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The valve's tag.")] string valve, [Description("The class it is to have.")] string newClass,
        [Description("The relief pressure the bench showed, in kilopascals.")] decimal reliefKpa, [Description("Which bench, and the number of its record.")] string bench,
        [Description("How many shims give it.")] int shimCount, [Description("Thickness of the stack in millimetres.")] decimal shimStackMm,
        [Description(WhyText)] string why, CancellationToken cancellation = default) => Act<ReRateValve.Command>(acting, new ReRateValve.Command(requestId, valve, newClass,
            (long)decimal.Round(Math.Clamp(reliefKpa, -1_000_000m, 1_000_000m) * Pressure.PascalsPerKilopascal), bench, shimCount, Nanometres(shimStackMm), why), cancellation);

    // Far outside what any valve has: the act's own rule refuses it with its own code.
    internal static long Nanometres(decimal millimetres) => (long)decimal.Round(Math.Clamp(millimetres, -1_000m, 1_000m) * Length.NanometresPerMillimetre);

    private static Task<Payload<UnitActedView>> Act<TAct>(Acting acting, Outcome<TAct> act, CancellationToken cancellation) where TAct : IAct<UnitActed> =>
        acting.Act<TAct, UnitActed, UnitActedView>(act, acted => new UnitActedView(acted), cancellation);
}
