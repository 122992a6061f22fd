using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// Somebody takes a proposal to the bench: until it is accepted, let go or run out its halves are proposed to nobody else and join no other
/// pair.
/// </summary>
public static class HoldProposal
{
    public const int DefaultHours = 4;
    public const int LongestHours = 72;

    /// <param name="Hours">How long it is held, 1 to 72.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    [Heavy]
    public sealed record Command(
        string RequestId, string Family, string? Class = null, bool KeepTogether = false, IReadOnlyList<ProposePairs.ClassPieces>? First = null,
        IReadOnlyList<ProposePairs.ClassPieces>? Reserve = null, int Hours = DefaultHours) : IAct<Answer>;

    /// <param name="Proposal">Its number, for accepting it.</param>
    public sealed record Answer(long Proposal, DateTimeOffset HeldUntil, ProposePairs.Shown Shown);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Family).Named("family");
            RuleFor(c => c.Hours).InclusiveBetween(1, LongestHours).WithErrorCode("HOURS_RANGE")
                .WithMessage($"A proposal is held from 1 to {LongestHours} hours.").WithState(_ => "Give fewer hours; it can be proposed again.");
        }
    }

    public sealed class Handler(PairingDesk desk) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            // What has run out gives its halves back before anybody asks for them.
            await context.Db.ProposalLines.Where(row => row.State == ProposalState.Held && row.Proposal.HeldUntil <= context.Now)
                .ExecuteUpdateAsync(row => row.SetProperty(line => line.State, ProposalState.LetGo), cancellation);
            var proposed = await desk.Propose(new ProposePairs.Query(act.Family, act.Class, act.KeepTogether, act.First, act.Reserve), cancellation);
            if (!proposed.Succeeded) return proposed.Refusal;
            var (shown, halves) = (proposed.Result.Shown, proposed.Result.Halves);
            if (halves.Count == 0) return new Refusal("NOTHING_TO_PAIR", $"No two loose halves of family {shown.Family} fit.", "Measure more halves, or see what honing would buy.");

            var proposal = new ProposalRow
            {
                FamilyId = proposed.Result.Family.Id, MadeAt = context.Now, MadeBy = context.Caller.Name, HeldUntil = context.Now.AddHours(act.Hours),
            };
            foreach (var (pair, (housing, valve)) in shown.Pairs.Zip(halves))
                proposal.Lines.Add(new ProposalLineRow
                {
                    HousingId = housing.Id, ValveId = valve.Id, BoreMeasurementId = housing.MeasurementId!.Value, SpoolMeasurementId = valve.MeasurementId!.Value,
                    Clearance = housing.Size!.Size - valve.Size!.Size,
                    Deviation = housing.Size.Size - valve.Size.Size - proposed.Result.Family.Limits.Result.Target, State = ProposalState.Held,
                });
            context.Db.Proposals.Add(proposal);
            await context.Db.SaveChangesAsync(cancellation);
            return new Answer(proposal.Id, proposal.HeldUntil, shown);
        }
    }
}
