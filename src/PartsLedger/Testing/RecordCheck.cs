using System.Globalization;
using FluentValidation;
using PartsLedger.Data;
using PartsLedger.Data.Testing;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Jobs;
using PartsLedger.Kits;
using PartsLedger.Stock;

namespace PartsLedger.Testing;

/// <summary>
/// What a check came to: a measured value with its unit, judged by the check's limits, or what was seen; or why it is skipped.
/// </summary>
public static class RecordCheck
{
    /// <param name="Unit">Of the value; a value without one is refused where the check has a unit.</param>
    /// <param name="Passed">What was seen, where there are no limits to judge by.</param>
    /// <param name="SkippedWhy">The check is not done, and why.</param>
    /// <param name="Seen">The number of the check's last result that the sender had seen, 0 for none; null where nothing was looked at.</param>
    [Allowed(Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Job, int Sequence, decimal? Value = null, string? Unit = null, bool? Passed = null,
            string? SkippedWhy = null, string? Note = null, long? Seen = null)
        : IAct<Answer>;

    public sealed record Answer(JobActed Acted, CheckResult Result);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Unit).MaximumLength(20).WithErrorCode("TEXT_TOO_LONG").WithMessage("No unit has more than 20 characters.")
                .WithState(_ => "Give the unit the check asks for.");
            RuleFor(c => c.SkippedWhy).ShortText("reason");
            RuleFor(c => c.Note).ShortText("note");
            RuleFor(c => c.Value).Must(value => value is not (> 1_000_000_000 or < -1_000_000_000)).WithErrorCode("VALUE_OUT_OF_RANGE")
                .WithMessage("No measured value is that large.").WithState(_ => "Check the number and its unit.");
        }
    }

    /// <param name="Value">In the check's unit; null where none was measured.</param>
    public sealed record Judged(CheckResult Result, decimal? Value);

    public static Outcome<Judged> Decide(Command act, JobStanding standing, IReadOnlyList<CheckOfJob> checks)
    {
        if (JobCourse.Refuse(standing, JobStep.Check) is { } refusal) return refusal;
        if (checks.FirstOrDefault(one => one.Check.Sequence == act.Sequence)?.Check is not { } check)
            return new Refusal("UNKNOWN_CHECK", $"Job {standing.Number} has no check {act.Sequence}.",
                checks.Count == 0 ? "Its list has no checks." : $"It has {string.Join(", ", checks.Select(one => one.Check.Sequence))}.");
        if (checks.FirstOrDefault(one => one.Check.Sequence < act.Sequence && one.Last is null) is { } earlier)
            return new Refusal("CHECK_OUT_OF_ORDER", $"Before check {act.Sequence} comes {earlier.Say}.",
                "Do that first, or say why it is skipped.");
        if (checks.FirstOrDefault(one => one.Check.Sequence == act.Sequence)?.Last is { } last && last.Id > act.Seen)
            return WorkRefusals.CheckChanged(act.Sequence, Words.Of(last.Result), last.Who);
        if (act.SkippedWhy is not null)
            return string.IsNullOrWhiteSpace(act.SkippedWhy)
                ? new Refusal("REASON_MISSING", $"It is not said why check {act.Sequence} is skipped.", "Say why in a few words.")
                : new Judged(CheckResult.Skipped, null);
        return Judge(act, check);
    }

    private static Outcome<Judged> Judge(Command act, KitCheck check)
    {
        decimal? value = null;
        if (check.Unit is { } unit)
        {
            if (act.Value is not { } given) return new Refusal("VALUE_MISSING", $"Check {check.Sequence} asks for a value in {unit}.",
                "Measure it and give the value with its unit.");
            if (string.IsNullOrWhiteSpace(act.Unit)) return new Refusal("UNIT_MISSING",
                $"{Number(given)} of what? Check {check.Sequence} asks for {unit}.", "Give the value with its unit.");
            value = CheckMeasure.Convert(given, act.Unit, unit);
            if (value is null) return new Refusal("WRONG_UNIT",
                $"{Number(given)} {act.Unit.Trim()} cannot be told in {unit}, which check {check.Sequence} asks for.",
                $"Measure it in {unit}.");
        }
        var judged = check is { Unit: not null } and not { Low: null, High: null } ? (bool?)((check.Low is null || value >= check.Low)
            && (check.High is null || value <= check.High)) : null;
        if ((judged ?? act.Passed) is not { } passed)
            return new Refusal("RESULT_MISSING", $"Check {check.Sequence} has no limits to judge by, and it is not said whether it passed.",
                "Say whether it passed.");
        if (act.Passed is { } stated && stated != passed)
            return new Refusal("RESULT_CONTRADICTS",
                $"{Number(value ?? 0)} {check.Unit} {(passed ? "lies" : "does not lie")} within {KitPhrases.Limits(check)} {check.Unit}; it was said to have {(stated ? "passed" : "failed")}.",
                "Look at the value again.");
        return new Judged(passed ? CheckResult.Passed : CheckResult.Failed, value);
    }

    private static string Number(decimal value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings, CheckDesk checks) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var all = await checks.Checks(job, cancellation);
            var decided = Decide(act, await standings.Of(job, context.Now, cancellation), all);
            if (!decided.Succeeded) return decided.Refusal;
            var (check, judged) = (all.Single(one => one.Check.Sequence == act.Sequence).Check, decided.Result);
            db.JobChecks.Add(new JobCheckRow
            {
                JobId = job.Id, Sequence = check.Sequence, Text = check.Text, Expected = check.Expected, Unit = check.Unit,
                Result = judged.Result,
                ValueMillionths = judged.Value is { } value ? (long)decimal.Round(value * 1_000_000, MidpointRounding.AwayFromZero) : null,
                Given = act.Value is { } given ? $"{Number(given)} {act.Unit?.Trim()}" : null, Why = act.SkippedWhy ?? act.Note,
                At = context.Now, Who = context.Caller.Name,
                RequestId = act.RequestId,
            });
            job.Version++;
            var said = $"{check.Sequence}: {Words.Of(judged.Result)}{(judged.Value is { } shown ? $", {Number(shown)} {check.Unit}" : "")}";
            desk.Write(context, act.RequestId, job, "check", said, act.SkippedWhy ?? act.Note);
            return new Answer(new JobActed(job.Number, job.State,
                $"Job {job.Number}, check {said}.{(judged.Result == CheckResult.Passed ? "" : " A supervisor must sign it before the pump is released.")}"), judged.Result);
        }
    }
}
