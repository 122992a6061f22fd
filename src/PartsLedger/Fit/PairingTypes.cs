using System.ComponentModel;
using GraphQL;

namespace PartsLedger.Fit;

// Proposals and pairs, as the API shows them.

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
