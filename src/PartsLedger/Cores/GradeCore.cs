using FluentValidation;
using PartsLedger.Data.Cores;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Cores;

/// <summary>A core is looked over by the checklist: a finding for each position looked at, and what the whole is good for.</summary>
public static class GradeCore
{
    [Allowed(Role.Counter, Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(string RequestId, string Tag, CoreGrade Grade, IReadOnlyList<PositionFinding> Findings, string? Note = null) : IAct<CoreActed>;

    /// <param name="Position">The position number on the parts list; see <see cref="Finding"/> for what can be found there.</param>
    public sealed record PositionFinding(int Position, Finding Finding, string? Note = null);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Tag).Named("core's tag");
            RuleFor(c => c.Note).ShortText("note");
            RuleFor(c => c.Findings).Must(findings => findings.Select(finding => finding.Position).Distinct().Count() == findings.Count)
                .WithErrorCode("POSITION_TWICE").WithMessage("A position has two findings.").WithState(_ => "Give each position once.");
            RuleFor(c => c.Findings.Count).LessThanOrEqualTo(200).WithErrorCode("TOO_MANY_LINES").WithMessage("A core has at most 200 findings.").WithState(_ => "Send fewer.");
            RuleForEach(c => c.Findings).ChildRules(finding => finding.RuleFor(f => f.Note).ShortText("note on a position"));
        }
    }

    public static Refusal? Decide(CoreRow core) => CoreCourse.Refuse(core, CoreState.Graded);

    public sealed class Handler(CoreDesk desk, UnitDesk history) : IActHandler<Command, CoreActed>
    {
        public async Task<Outcome<CoreActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Core(act.Tag, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var core = found.Result;
            if (Decide(core) is { } refusal) return refusal;
            core.State = CoreState.Graded;
            core.Grade = act.Grade;
            core.Version++;
            foreach (var given in act.Findings)
            {
                if (core.Findings.Find(known => known.Position == given.Position) is { } known) (known.Finding, known.Note) = (given.Finding, given.Note);
                else core.Findings.Add(new CoreFindingRow { Position = given.Position, Finding = given.Finding, Note = given.Note });
            }
            history.Write(context, act.RequestId, "graded", $"{Words.Of(act.Grade)}; {act.Findings.Count} findings", act.Note, coreId: core.Id);
            return new CoreActed(core.Tag, CoreCourse.Words(core.State), $"Core {core.Tag} is graded {Words.Of(act.Grade).Replace('-', ' ')}.");
        }
    }
}
