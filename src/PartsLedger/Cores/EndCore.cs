using FluentValidation;
using PartsLedger.Data.Cores;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Cores;

/// <summary>A core leaves: back to whoever sent it, or to the scrap heap.</summary>
public static class EndCore
{
    /// <param name="SendBack">True sends it back, false scraps it (or what is left of it after tear-down).</param>
    [Allowed(Role.Counter, Role.Warehouse)]
    public sealed record Command(string RequestId, string Core, bool SendBack, string Why) : IAct<CoreActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Core).Named("core's tag");
            RuleFor(c => (string?)c.Why).Reason();
        }
    }

    public static Refusal? Decide(Command act, CoreRow core) => CoreCourse.Refuse(core, act.SendBack ? CoreState.SentBack : CoreState.Scrapped);

    public sealed class Handler(CoreDesk desk, UnitDesk history) : IActHandler<Command, CoreActed>
    {
        public async Task<Outcome<CoreActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Core(act.Core, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var core = found.Result;
            if (Decide(act, core) is { } refusal) return refusal;
            core.State = act.SendBack ? CoreState.SentBack : CoreState.Scrapped;
            core.Version++;
            history.Write(context, act.RequestId, act.SendBack ? "sent back" : "scrapped", null, act.Why, coreId: core.Id);
            return new CoreActed(core.Tag, CoreCourse.Words(core.State), act.SendBack ? $"Core {core.Tag} goes back to {core.ReceivedFrom ?? "whoever sent it"}." : $"Core {core.Tag} is scrapped.");
        }
    }
}
