using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Cores;
using PartsLedger.Data;
using PartsLedger.Data.Fit;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Kits;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// What tear-down showed, position by position. A later finding takes the place of an earlier one; an accepted list then no longer counts
/// until it is resolved and accepted anew.
/// </summary>
public static class RecordFindings
{
    /// <param name="Findings">None means that the pump was looked over and nothing was found.</param>
    /// <param name="Seen">
    /// The number of the last finding that the sender had seen, 0 for none: a later one at the same position is not replaced unseen.
    /// Null where nothing was looked at first.
    /// </param>
    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, IReadOnlyList<GradeCore.PositionFinding> Findings, string? Note = null,
        long? Seen = null) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Note).ShortText("note");
            RuleFor(c => c.Findings).Must(findings => findings.Select(finding => finding.Position).Distinct().Count() == findings.Count)
                .WithErrorCode("POSITION_TWICE").WithMessage("A position has two findings.").WithState(_ => "Give each position once.");
            RuleFor(c => c.Findings.Count).LessThanOrEqualTo(200).WithErrorCode("TOO_MANY_LINES")
                .WithMessage("At most 200 findings at once.").WithState(_ => "Send fewer.");
            RuleForEach(c => c.Findings).ChildRules(finding => finding.RuleFor(f => f.Note).ShortText("note on a position"));
        }
    }

    /// <param name="last">What was last found at each position.</param>
    public static Refusal? Decide(Command act, JobStanding standing, string variant, IReadOnlyCollection<int> positions,
        IReadOnlyList<JobFindingRow> last)
    {
        if (JobCourse.Refuse(standing, JobStep.RecordFindings) is { } refusal) return refusal;
        if (act.Findings.FirstOrDefault(finding => !positions.Contains(finding.Position)) is { } unknown)
            return WorkRefusals.UnknownPosition(variant, unknown.Position, positions);
        return last.FirstOrDefault(row => row.Id > act.Seen && act.Findings.Any(finding => finding.Position == row.Position)) is { } unseen
            ? WorkRefusals.FindingChanged(unseen.Position, Words.Of(unseen.Finding).Replace('-', ' '), unseen.Who) : null;
    }

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings, UnitDesk units) : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            var positions = await db.Positions.AsNoTracking().Where(row => row.VariantId == job.VariantId).Select(row => row.Position)
                .ToListAsync(cancellation);
            if (Decide(act, await standings.Of(job, context.Now, cancellation), job.Variant?.Code ?? "",
                positions, await desk.Findings(job.Id, cancellation)) is { } refusal) return refusal;

            foreach (var finding in act.Findings)
                db.JobFindings.Add(new JobFindingRow
                {
                    JobId = job.Id, Position = finding.Position, Finding = finding.Finding, Note = finding.Note, At = context.Now,
                    Who = context.Caller.Name,
                    RequestId = act.RequestId,
                });
            var again = job.State == JobState.ListAccepted;
            job.State = JobState.TornDown;
            job.TakePairOut();
            job.Version++;
            var kept = await KeepOwnPair(act, job, context, cancellation);
            var notGood = act.Findings.Where(finding => finding.Finding != Finding.Good)
                .Select(finding => $"{finding.Position} {Words.Of(finding.Finding).Replace('-', ' ')}");
            desk.Write(context, act.RequestId, job, "findings",
                $"{KitPhrases.Count(act.Findings.Count, "position", "positions")}; not good: {string.Join(", ", notGood.DefaultIfEmpty("none"))}", act.Note);
            return new JobActed(job.Number, job.State, $"{KitPhrases.Count(act.Findings.Count, "finding is", "findings are")} written down for job {job.Number}."
                + (again ? " Its kit list must be looked at and accepted anew." : "") + (kept is null ? ""
                    : $" Pair {kept.Code} of its core is kept for it."));
        }

        /// <summary>The pair that came in this pump is nobody else's.</summary>
        private async Task<PairRow?> KeepOwnPair(Command act, JobRow job, ActContext context, CancellationToken cancellation)
        {
            if (job.IsExchange || job.CoreId is not { } core) return null;
            var pair = await db.Pairs.FirstOrDefaultAsync(row => row.Origin == PairOrigin.AsReceived && row.State == PairState.Together
                && row.Job == null
                && row.Halves.Any(half => half.CoreId == core), cancellation);
            if (pair is null) return null;
            pair.Job = job.Number;
            pair.JobUntil = null;
            pair.Version++;
            units.Write(context, act.RequestId, "kept", $"job {job.Number}", pairId: pair.Id);
            return pair;
        }
    }
}
