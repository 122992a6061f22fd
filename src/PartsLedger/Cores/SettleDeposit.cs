using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Cores;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Cores;

/// <summary>The deposit owed for a core is given back, or kept for a reason: once, and for the whole of it.</summary>
public static class SettleDeposit
{
    /// <param name="GiveBack">False keeps it; that needs a reason.</param>
    [Allowed(Role.Counter)]
    public sealed record Command(string RequestId, string Core, bool GiveBack, string? Why = null) : IAct<CoreActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Core).Named("core's tag");
            RuleFor(c => c.Why).ShortText("reason");
            RuleFor(c => c.Why).Reason().When(c => !c.GiveBack);
        }
    }

    /// <param name="settled">How it was settled before, if it was.</param>
    public static Refusal? Decide(CoreRow core, Money owed, DepositEntry? settled)
    {
        if (settled is { } before)
            return new Refusal("DEPOSIT_SETTLED", $"The deposit of core {core.Tag} was already {(before == DepositEntry.GivenBack ? "given back" : "kept")}.", "It is settled once.");
        if (owed <= Money.Zero) return new Refusal("NO_DEPOSIT", $"No deposit is owed for core {core.Tag}.", "There is nothing to settle.");
        if (core.State == CoreState.Arrived)
            return new Refusal("CORE_NOT_GRADED", $"Core {core.Tag} has not been graded.", "Grade it first: the grade decides what becomes of the deposit.");
        return null;
    }

    public sealed class Handler(CoreDesk desk, UnitDesk history) : IActHandler<Command, CoreActed>
    {
        public async Task<Outcome<CoreActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Core(act.Core, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var core = found.Result;
            var owed = await desk.Owed(core.Id, cancellation);
            var settled = await context.Db.DepositEntries.Where(row => row.CoreId == core.Id && row.Settles == 1)
                .Select(row => (DepositEntry?)row.Entry).SingleOrDefaultAsync(cancellation);
            if (Decide(core, owed, settled) is { } refusal) return refusal;
            context.Db.DepositEntries.Add(new DepositEntryRow
            {
                CoreId = core.Id, Entry = act.GiveBack ? DepositEntry.GivenBack : DepositEntry.Kept, Settles = 1, Amount = -owed, At = context.Now,
                Who = context.Caller.Name, Why = act.Why, RequestId = act.RequestId,
            });
            history.Write(context, act.RequestId, act.GiveBack ? "deposit given back" : "deposit kept", owed.ToString(), act.Why, coreId: core.Id);
            return new CoreActed(core.Tag, CoreCourse.Words(core.State), act.GiveBack ? $"Give back {owed} for core {core.Tag}." : $"The deposit of {owed} for core {core.Tag} is kept.");
        }
    }
}
