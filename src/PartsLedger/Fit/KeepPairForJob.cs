using FluentValidation;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>A pair is kept for a job, as one, or let go again. A pair of another class than the job's is never kept for it.</summary>
public static class KeepPairForJob
{
    /// <param name="PressureClass">The class the job's variant has.</param>
    /// <param name="Until">Until when; two weeks when not said.</param>
    [Allowed(Role.Counter, Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Pair, string Job, string PressureClass, DateTimeOffset? Until = null, bool LetGo = false) : IAct<UnitActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Pair).Named("pair code");
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.PressureClass).Named("pressure class");
        }
    }

    public static Refusal? Decide(Command act, PairRow pair, DateTimeOffset now)
    {
        var keptBy = pair.Job is not null && (pair.JobUntil is null || pair.JobUntil > now) ? pair.Job : null;
        var sameJob = keptBy is not null && Code.KeyOf(keptBy) == Code.KeyOf(act.Job);
        if (pair.State != PairState.Together) return UnitRefusals.PairNotTogether(pair);
        if (act.LetGo)
            return sameJob ? null : new Refusal("NOT_KEPT", $"Pair {pair.Code} is not kept for job {act.Job}.", "There is nothing to let go.");
        if (Code.KeyOf(pair.PressureClass.Code) != Code.KeyOf(act.PressureClass))
            return UnitRefusals.OtherClass($"pair {pair.Code}", pair.PressureClass.Code, $"job {act.Job}", act.PressureClass);
        if (!pair.Released)
            return new Refusal("PAIR_NOT_RELEASED", $"Pair {pair.Code} has not been measured and released.", "Measure both halves and release the pair first.");
        if (keptBy is not null && !sameJob) return UnitRefusals.KeptForJob($"Pair {pair.Code}", keptBy);
        if (act.Until <= now) return new Refusal("DATE_PAST", "The time until which it is kept has passed.", "Give a time to come.");
        return null;
    }

    public sealed class Handler(UnitDesk desk) : IActHandler<Command, UnitActed>
    {
        public async Task<Outcome<UnitActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Pair(act.Pair, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var pair = found.Result;
            if (Decide(act, pair, context.Now) is { } refusal) return refusal;
            pair.Job = act.LetGo ? null : act.Job.Trim();
            pair.JobUntil = act.LetGo ? null : act.Until ?? context.Now.AddDays(14);
            pair.Version++;
            desk.Write(context, act.RequestId, act.LetGo ? "let go" : "kept", $"job {act.Job}", pairId: pair.Id);
            return new UnitActed(pair.Code, act.LetGo ? $"Pair {pair.Code} is free again."
                : $"Pair {pair.Code} ({pair.Tags()}) is kept for job {act.Job} until {pair.JobUntil:yyyy-MM-dd}.");
        }
    }
}
