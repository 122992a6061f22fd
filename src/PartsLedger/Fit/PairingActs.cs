using System.ComponentModel;
using GraphQL;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Fit;

/// <summary>What the API can do with measurements and proposals.</summary>
public sealed class PairingActs
{
    private PairingActs() { }

    [Description("Bores and spools were measured, one or many: all are kept or none. A repeat supersedes the measurement before it; nothing is overwritten.")]
    public static Task<Payload<RecordedMeasurementsView>> RecordMeasurements([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("What was measured.")] IEnumerable<MeasurementLineInput> lines, CancellationToken cancellation = default) =>
        acting.Act<RecordMeasurements.Command, RecordMeasurements.Answer, RecordedMeasurementsView>(
            new RecordMeasurements.Command(requestId, [.. lines.Select(line => line.Read())]), answer => new(answer), cancellation);

    [Description("A proposal is taken to the bench: until it is accepted, let go or run out its halves are proposed to nobody else.")]
    public static Task<Payload<HeldProposalView>> HoldProposal([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The family's code.")] string family, [Description("Only valves of this class.")] string? ofClass = null,
        [Description("Loose halves that came out of one core and still fit go to each other first.")] bool keepTogether = false,
        [Description("Classes whose jobs are served before the rest.")] IEnumerable<ClassPiecesInput>? first = null,
        [Description("Housings kept for a class.")] IEnumerable<ClassPiecesInput>? reserve = null,
        [Description("For how many hours, 1 to 72.")] int hours = Fit.HoldProposal.DefaultHours, CancellationToken cancellation = default) =>
        acting.Act<HoldProposal.Command, HoldProposal.Answer, HeldProposalView>(new HoldProposal.Command(requestId, family, ofClass, keepTogether,
            [.. (first ?? []).Select(one => one.Read())], [.. (reserve ?? []).Select(one => one.Read())], hours), answer => new(answer), cancellation);

    [Description("A held proposal becomes pairs, in whole or in part. Refused whole when a half was measured again or changed since.")]
    public static Task<Payload<JoinedPairsView>> AcceptProposal([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The proposal's number.")] [Id] long proposal, [Description("Where the pairs are kept.")] string location,
        [Description("The housings whose pairs are accepted; every pair when left out.")] IEnumerable<string>? housings = null,
        [Description("A pair's code is this and its housing's tag.")] string codePrefix = "P-", [Description("Why, in a few words.")] string? why = null,
        CancellationToken cancellation = default) =>
        acting.Act<AcceptProposal.Command, AcceptProposal.Answer, JoinedPairsView>(
            new AcceptProposal.Command(requestId, proposal, location, housings?.ToList(), codePrefix, why), answer => new(answer), cancellation);

    [Description("A held proposal is let go.")]
    public static Task<Payload<UnitActedView>> LetProposalGo([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The proposal's number.")] [Id] long proposal, CancellationToken cancellation = default) =>
        acting.Act<LetProposalGo.Command, UnitActed, UnitActedView>(new LetProposalGo.Command(requestId, proposal), acted => new(acted), cancellation);
}
