using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>A held proposal is let go: its halves are free for other proposals and pairs.</summary>
public static class LetProposalGo
{
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, long Proposal) : IAct<UnitActed>;

    public sealed class Handler : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            if (!await context.Db.Proposals.AnyAsync(row => row.Id == act.Proposal, cancellation)) return AcceptProposal.Unknown(act.Proposal);
            var freed = await context.Db.ProposalLines.Where(row => row.ProposalId == act.Proposal && row.State == ProposalState.Held)
                .ExecuteUpdateAsync(row => row.SetProperty(line => line.State, ProposalState.LetGo), cancellation);
            return new UnitActed($"{act.Proposal}", $"Proposal {act.Proposal} is let go; {freed} pairs of it were still held.");
        }
    }
}
