using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Stock;

namespace PartsLedger.Cores;

/// <summary>What the API can do with used pumps.</summary>
public sealed class CoreActs
{
    private const string CoreText = "The core's tag.";

    private CoreActs() { }

    [Description("A used pump comes in: tagged, described, and its deposit written down as owed.")]
    public static Task<Payload<CoreActedView>> TakeInCore([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("A tag that nothing carries yet.")] string tag, [Description("Its family; left out while not known.")] string? family = null,
        [Description("Its variant; left out while not known.")] string? variant = null, [Description("Its serial number.")] string? serial = null,
        [Description("As it looks on arrival.")] string? condition = null, [Description("When it came; today when left out.")] DateOnly? receivedOn = null,
        [Description("Who brought it.")] string? receivedFrom = null, [Description("What was left as a deposit; zero when left out.")] decimal? deposit = null,
        CancellationToken cancellation = default) => Act<TakeInCore.Command>(acting, deposit is < 0 ? new TakeInCore.Command(requestId, tag, family, variant, serial, condition,
            receivedOn, receivedFrom, Money.FromTenThousandths(-1)) : deposit.ToMoney().Then<TakeInCore.Command>(read =>
            new TakeInCore.Command(requestId, tag, family, variant, serial, condition, receivedOn, receivedFrom, read.Money ?? Money.Zero)), cancellation);

    [Description("A core is looked over by the checklist.")]
    public static Task<Payload<CoreActedView>> GradeCore([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(CoreText)] string core, [Description("What the whole is good for.")] CoreGrade grade,
        [Description("What was found, by position.")] IReadOnlyList<FindingInput> findings, [Description("A note.")] string? note = null,
        CancellationToken cancellation = default) => Act<GradeCore.Command>(acting, new GradeCore.Command(requestId, core, grade,
            [.. findings.Select(finding => new GradeCore.PositionFinding(finding.Position, finding.Finding, finding.Note))], note), cancellation);

    [Description("A graded core is taken to pieces: housing and valve get tags and stay a pair, sound pieces go into stock as used.")]
    public static Task<Payload<CoreActedView>> TearDownCore([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(CoreText)] string core, [Description("Where the halves, or the pair, are kept.")] string location,
        [Description("The housing, when it is kept.")] HalfInput? housing = null, [Description("The valve, when it is kept; its shims are needed.")] HalfInput? valve = null,
        [Description("The pair's code, when both are kept.")] string? pair = null, [Description("Sound pieces.")] IReadOnlyList<UsedPartInput>? parts = null,
        CancellationToken cancellation = default)
    {
        return Act(acting, Write(), cancellation);

        Outcome<TearDownCore.Command> Write()
        {
            var pieces = new List<TearDownCore.UsedPart>();
            foreach (var part in parts ?? [])
            {
                var quantity = part.Quantity.ToQuantity();
                if (!quantity.Succeeded) return quantity.Refusal;
                pieces.Add(new(part.Part, quantity.Result, part.Location, part.Lot));
            }
            return new TearDownCore.Command(requestId, core, Half(housing), Half(valve), pair, location, pieces);
        }

        static TearDownCore.Half? Half(HalfInput? half) => half is null ? null : new(half.Tag, half.Part, half.PressureClass, half.ShimCount,
            half.ShimStackMm is { } stack ? FitActs.Nanometres(stack) : null);
    }

    [Description("The deposit owed for a core is given back, or kept for a reason: once, and for the whole of it.")]
    public static Task<Payload<CoreActedView>> SettleDeposit([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(CoreText)] string core, [Description("Give it back; else it is kept.")] bool giveBack, [Description("Why; needed when it is kept.")] string? why = null,
        CancellationToken cancellation = default) => Act<SettleDeposit.Command>(acting, new SettleDeposit.Command(requestId, core, giveBack, why), cancellation);

    [Description("A core leaves: back to whoever sent it, or to the scrap heap.")]
    public static Task<Payload<CoreActedView>> EndCore([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(CoreText)] string core, [Description("Send it back; else it is scrapped.")] bool sendBack, [Description("Why.")] string why,
        CancellationToken cancellation = default) => Act<EndCore.Command>(acting, new EndCore.Command(requestId, core, sendBack, why), cancellation);

    private static Task<Payload<CoreActedView>> Act<TAct>(Acting acting, Outcome<TAct> act, CancellationToken cancellation) where TAct : IAct<CoreActed> =>
        acting.Act<TAct, CoreActed, CoreActedView>(act, acted => new CoreActedView(acted), cancellation);
}

/// <summary>What the API can be asked about used pumps.</summary>
public sealed class CoreFields
{
    private CoreFields() { }

    [Description("How many cores are in the house by family, class and grade, and what is owed for them.")]
    public static async Task<CoreBankView> CoreBank([FromServices] Asking asking, CancellationToken cancellation = default) =>
        new(await asking.Answer<CoreBank.Query, CoreBank.Answer>(new(), cancellation));

    [Description("One core by its tag, with the checklist it is graded by.")]
    public static async Task<CoreView> Core([FromServices] Asking asking, [Description("The core's tag.")] string tag, CancellationToken cancellation) =>
        new(await asking.Answer<CoreByTag.Query, CoreByTag.Answer>(new(tag), cancellation));

    [Description("The cores, in order of entry.")]
    public static async Task<Connection<FindCores.Found>> Cores([FromServices] Asking asking,
        [Description("Only those of this family, by its code.")] string? family = null,
        [Description("Only those in this state: arrived, graded, torn-down, sent-back, scrapped.")] string? state = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("cores", await asking.Answer<FindCores.Query, Page<FindCores.Found>>(
            new(family, state, PageRequest.Read("cores", first, after).OrRefuse()), cancellation));
}
